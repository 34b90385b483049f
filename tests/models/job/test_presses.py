"""A job file for a shop with several presses."""

from pathlib import Path

import pytest

from models.job.reader import read_job
from models.store.recipe_json import job_from_json, job_to_json
from tests.job_files import Table, faults_of, small_job, write_job


def with_presses(*names: str) -> Table:
    """The small job with its press under each of these names, every next one half as wide."""
    job = small_job()
    press = job.pop("press")
    width, height = press["platen"]
    job["presses"] = [
        {**press, "name": name, "platen": [width / 2**n, height]} for n, name in enumerate(names)
    ]
    return job


def test_the_presses_stand_in_the_order_of_the_file(tmp_path: Path) -> None:
    job = read_job(write_job(tmp_path, with_presses("wide", "narrow")))

    assert [(press.name, press.platen_width_mm) for press in job.presses] == [("wide", 400), ("narrow", 200)]
    assert job_from_json(job_to_json(job)) == job


def test_the_one_press_has_no_name(tmp_path: Path) -> None:
    assert [press.name for press in read_job(write_job(tmp_path, small_job())).presses] == [""]


def test_of_several_shortest_closings_the_longest_holds_for_all(tmp_path: Path) -> None:
    job = with_presses("wide", "narrow")
    job["presses"][1]["shortest_s"] = 5

    assert read_job(write_job(tmp_path, job)).shortest_s == 5


@pytest.mark.parametrize(
    ("job", "place", "wrong"),
    [
        (with_presses("wide", "wide"), 'presses[2] "wide"', "has the name of presses[1]"),
        ({**with_presses("wide"), "press": small_job()["press"]}, "presses", "beside press"),
        ({key: value for key, value in small_job().items() if key != "press"}, "press", "missing"),
        ({**with_presses(), "presses": []}, "presses", "too few entries"),
        (with_presses("wide", ""), "presses[2].name", "one line of text"),
    ],
    ids=["one name twice", "both forms", "none", "an empty list", "no name"],
)
def test_a_fault_in_the_presses_is_told_with_its_place(
    tmp_path: Path, job: Table, place: str, wrong: str
) -> None:
    faults = faults_of(write_job(tmp_path, job))

    assert any(fault.place.startswith(place) and wrong in fault.wrong for fault in faults), faults
