"""Whose name no font can draw is told by wearer, with the codes that stand for it and the mend."""

from dataclasses import replace
from pathlib import Path

from models.job.job import GarmentOrder, Job
from printables.missing_letters import MEND, MOST_TOLD, remarks_on_letters
from printables.system_fonts import NO_FONTS, SystemFonts
from tests.sample_jobs import crew_vest_job
from tests.tiny_fonts import make_font


def job_of(*wearers: tuple[str, str]) -> Job:
    """A job for wearers, each with the number on the back."""
    orders = [GarmentOrder(n, "M", wearer, number) for n, (wearer, number) in enumerate(wearers, start=1)]
    return replace(crew_vest_job(), garments=tuple(orders))


def test_names_that_the_shipped_fonts_draw_are_not_spoken_of() -> None:
    job = job_of(("Łukasz", "1"), ("שרה", "2"), ("Береговская", ""), ("أمينة", "4"), ("", ""))
    assert remarks_on_letters(job, NO_FONTS) == ()


def test_a_wearer_without_a_font_is_named_with_number_and_codes() -> None:
    job = job_of(("Quaye", "1"), ("山田", "3"), ("Ane 😀", ""))
    assert remarks_on_letters(job, NO_FONTS) == (
        "No 3 山田: no font for U+5C71, U+7530",
        "Ane 😀: no font for U+1F600",
        MEND,
    )


def test_letters_that_draw_nothing_need_no_font() -> None:
    assert remarks_on_letters(job_of(("علی\u200cرضا", "3")), NO_FONTS) == ()


def test_a_font_of_the_computer_leaves_those_that_it_lacks(tmp_path: Path) -> None:
    make_font(tmp_path / "a.ttf", "山")
    assert remarks_on_letters(job_of(("山田", "3"), ("山", "4")), SystemFonts([tmp_path])) == (
        "No 3 山田: no font for U+7530",
        MEND,
    )


def test_a_wearer_of_three_garments_is_told_once() -> None:
    assert len(remarks_on_letters(job_of(("山", "3"), ("山", "3"), ("山", "3")), NO_FONTS)) == 2


def test_a_size_or_a_piece_without_a_font_is_told_as_well() -> None:
    job = job_of(("Quaye", "1"))
    sized = replace(job, garments=(GarmentOrder(1, "大", "", ""),))
    assert remarks_on_letters(sized, NO_FONTS)[0] == "Garments of size 大: no font for U+5927"
    labelled = replace(job, pieces=(replace(job.pieces[0], label="錨"), *job.pieces[1:]))
    assert remarks_on_letters(labelled, NO_FONTS)[0] == "Names in the job file: no font for U+9328"


def test_of_very_many_wearers_the_first_are_told_and_how_many_more_there_are() -> None:
    lines = remarks_on_letters(job_of(*(("山田", str(n)) for n in range(MOST_TOLD + 7))), NO_FONTS)
    assert lines[-2:] == ("and 7 more", MEND)
    assert len(lines) == MOST_TOLD + 2
