from dataclasses import replace

from printables.lettering import NO_BREAK_SPACE
from printables.tag import hits_line
from tests.sample_jobs import crew_vest_plan


def plain(text: str) -> str:
    return text.replace(NO_BREAK_SPACE, " ")


def test_the_hits_stand_in_a_line_with_side_temperature_and_seconds():
    first, *others = hits_line(crew_vest_plan()).split("· ")
    assert plain(first).startswith("1 back 149° 15 s")
    assert plain(others[0]).startswith("2 back 149° 5 s")


def test_a_cover_sheet_and_a_pad_are_named():
    plan = crew_vest_plan()
    covered = replace(plan, hits=(replace(plan.hits[0], cover=True, pad=True),))
    assert plain(hits_line(covered)) == "1 back 149° 15 s cover pad"


def test_a_line_of_hits_breaks_only_between_two_of_them():
    parts = hits_line(crew_vest_plan()).split(" ")
    assert [part[0] for part in parts] == [str(n) for n in range(1, len(parts) + 1)]
