"""A job file says what a side is like in single garment sizes, and the job is had for each of them."""

from pathlib import Path
from typing import Any

import pytest

from models.geometry import Box
from models.job.job import Job, ZoneKind
from models.job.reader import read_job
from models.job.sizes import job_for_most, job_for_size, sizes_of
from tests.job_files import changed_job, faults_of, only_fault_of, small_job, write_job

Table = dict[str, Any]


def file_with(folder: Path, *sizes: Table) -> Path:
    return changed_job(folder, lambda job: job["sides"][0].update(sizes=list(sizes)))


def job_with(folder: Path, *sizes: Table) -> Job:
    return read_job(file_with(folder, *sizes))


def test_a_side_has_its_own_measures_in_a_size(tmp_path: Path) -> None:
    job = job_for_size(job_with(tmp_path, {"size": "S", "flat": [500, 640]}), "S")

    assert (job.side("back").width_mm, job.side("back").height_mm) == (500, 640)
    assert (job.side("front").width_mm, job.side("front").height_mm) == (560, 700)


def test_a_size_shifts_all_pieces_of_the_side(tmp_path: Path) -> None:
    whole = job_with(tmp_path, {"size": "S", "shift": [-10, 15]})
    job = job_for_size(whole, "S")

    assert [piece.box for piece in job.pieces] == [piece.box.moved(-10, 15) for piece in whole.pieces]


def test_a_size_that_the_side_says_nothing_of_is_as_the_side_stands(tmp_path: Path) -> None:
    whole = job_with(tmp_path, {"size": "S", "flat": [500, 640], "shift": [0, -20]})
    plain = read_job(write_job(tmp_path, small_job(), "plain.json"))

    assert job_for_size(whole, "M") == plain


def test_nothing_of_other_sizes_is_left_in_the_job_of_one(tmp_path: Path) -> None:
    job = job_for_size(job_with(tmp_path, {"size": "S", "flat": [500, 640]}), "S")

    assert not any(side.sizes for side in job.sides)


def test_the_zones_of_a_size_stand_in_place_of_the_sides(tmp_path: Path) -> None:
    snap = {"kind": "keep-out", "box": [250, 600, 20, 20], "label": "snap"}
    whole = job_with(tmp_path, {"size": "S", "zones": [snap]}, {"size": "M", "shift": [0, 5]})

    (zone,) = job_for_size(whole, "S").side("back").zones
    assert (zone.kind, zone.box, zone.label) == (ZoneKind.KEEP_OUT, Box(250, 600, 20, 20), "snap")
    assert job_for_size(whole, "M").side("back").zones == whole.side("back").zones


def test_the_outline_for_the_eye_grows_with_its_side(tmp_path: Path) -> None:
    def change(job: Table) -> None:
        job["sides"][0].update(outline={"box": [560, 700]}, sizes=[{"size": "S", "flat": [280, 350]}])

    outline = job_for_size(read_job(changed_job(tmp_path, change)), "S").side("back").outline

    assert outline is not None
    assert outline.box == Box(0, 0, 280, 350)


def test_a_shift_in_inches_is_rounded_to_the_whole_mm_of_the_platen(tmp_path: Path) -> None:
    def to_inches(job: Table) -> None:
        job["units"] = {"length": "in"}
        job["press"]["platen"] = [16, 20]
        job["sides"] = [{"name": "back", "size": [22, 28], "sizes": [{"size": "S", "shift": [0, -0.6]}]}]
        job["pieces"] = [
            {**piece, "at": [10, 10], "shape": {"box": [2, 2]}, "material": "printed-twill"}
            for piece in job["pieces"][:1]
        ]

    (in_size,) = read_job(changed_job(tmp_path, to_inches)).side("back").sizes

    assert in_size.shift_mm == (0, -15)  # 15.24 mm


def test_the_size_of_most_garments_comes_first(tmp_path: Path) -> None:
    job = job_with(tmp_path, {"size": "M", "flat": [600, 700]})

    assert sizes_of(job) == ("M", "S")
    assert job_for_most(job).side("back").width_mm == 600


# ---- faults


def test_a_size_that_no_garment_has_is_refused(tmp_path: Path) -> None:
    fault = only_fault_of(file_with(tmp_path, {"size": "XS", "flat": [500, 640]}))

    assert fault.place == 'sides[1] "back" sizes[1].size'
    assert (fault.wrong, fault.mend) == ('no garment size is named "XS"', 'did you mean "S"?')


def test_a_size_that_is_told_of_twice_is_refused(tmp_path: Path) -> None:
    fault = only_fault_of(file_with(tmp_path, {"size": "S"}, {"size": "S", "shift": [0, 5]}))

    assert fault.place == 'sides[1] "back" sizes[2]'
    assert fault.wrong == 'has the size of sides[1] "back" sizes[1]'


def test_a_piece_off_its_side_in_one_size_is_refused(tmp_path: Path) -> None:
    fault = only_fault_of(file_with(tmp_path, {"size": "S", "shift": [-160, 0]}))

    assert fault.place == 'pieces[1] "life-ring" at'
    assert fault.wrong == "lies off the side back by more than half its box in size S"


@pytest.mark.parametrize(
    ("entry", "place"),
    [
        ({"size": "S", "flat": [0, 640]}, 'sides[1] "back" sizes[1].flat[1]'),
        ({"size": "S", "flat": [9000, 640]}, 'sides[1] "back" sizes[1].flat'),
        ({"size": "S", "shift": [1]}, 'sides[1] "back" sizes[1].shift[2]'),
        ({"size": "S", "moved": [0, 1]}, 'sides[1] "back" sizes[1].moved'),
        ({"flat": [500, 640]}, 'sides[1] "back" sizes[1].size'),
    ],
)
def test_each_fault_of_a_size_is_told_with_its_place(tmp_path: Path, entry: Table, place: str) -> None:
    assert place in {fault.place for fault in faults_of(file_with(tmp_path, entry))}
