"""What is told to free pieces was tried: with it they can be planned, with a step less they cannot."""

from dataclasses import replace

import pytest

from models.errors import NoSoundSequenceError
from models.geometry import Box
from models.job.job import Job, Zone, ZoneKind
from models.planning.conflicts.smallest_change import Mend, clashing_pieces, mends
from models.planning.problem.side import side_work
from models.planning.search.solve_job import plan_hits
from tests.rule_checker import broken_rules
from tests.sample_jobs import BACK, FOAM, GLITTER, TWILL, box_piece, job_of

MIDDLE = Box(200, 300, 100, 60)
ON_IT = Box(220, 310, 40, 40)
TOUCHY = replace(FOAM, key="touchy-film", label="Touchy film", carrier_safe=False)
HOT = replace(TWILL, key="hot", label="Hot film", set_c=158, lowest_c=156, hottest_c=160)
COOL = replace(TWILL, key="cool", label="Cool film", hottest_c=150, takes_on_top=frozenset({"hot"}))
WEAK = replace(FOAM, key="weak", label="Weak foam", total_s=34, takes_on_top=frozenset({TWILL.key}))
ZIPS = tuple(Zone(ZoneKind.KEEP_OUT, Box(x, 0, 10, 700), "zip") for x in (180, 310))


def job_with(*pieces, zones=()) -> Job:
    materials = {material.key: material for _, material, _ in pieces}
    side = replace(BACK, zones=zones)
    return job_of([box_piece(*piece) for piece in pieces], tuple(materials.values()), sides=(side,))


def never() -> bool:
    return False


STUCK = {
    "carriers": job_with(("north", TOUCHY, MIDDLE), ("south", TOUCHY, Box(303, 300, 60, 60))),
    "a stack": job_with(("gleam", GLITTER, MIDDLE), ("lamp", FOAM, ON_IT)),
    "windows": job_with(("leaf", COOL, MIDDLE), ("sun", HOT, ON_IT)),
    "a total": job_with(("leaf", WEAK, MIDDLE), ("sun", replace(TWILL, longest_s=18), ON_IT)),
    "metal": job_with(("patch", TWILL, MIDDLE), zones=ZIPS),
    "heat": job_with(("sun", replace(TWILL, lowest_c=165, set_c=170, hottest_c=180), MIDDLE)),
}


def mends_of(job: Job) -> list[Mend]:
    work = side_work(job, job.sides[0])
    return mends(work, range(len(work.pieces)), never)


def can_be_planned(job: Job) -> bool:
    try:
        return broken_rules(job, plan_hits(job)) == []
    except NoSoundSequenceError:
        return False


@pytest.mark.parametrize("name", STUCK)
def test_each_told_mend_frees_the_pieces(name):
    found = mends_of(STUCK[name])
    assert found
    assert all(can_be_planned(mend.job) for mend in found)


@pytest.mark.parametrize("name", STUCK)
def test_a_step_less_than_the_told_mend_does_not_free_them(name):
    assert not can_be_planned(STUCK[name])
    less = [mend.change.made(mend.steps - 1) for mend in mends_of(STUCK[name]) if mend.steps > 1]
    assert not any(can_be_planned(job) for job in less)


def test_a_base_and_what_lies_on_it_may_change_places():
    assert mends_of(STUCK["a stack"])[0].told == "lay lamp under gleam: put it before gleam in the job file"


def test_a_material_that_could_take_the_other_on_top_is_told():
    told = [mend.told for mend in mends_of(STUCK["a stack"])]
    assert "let Glitter film take Raised foam film on top, if its maker allows it" in told


def test_a_window_is_widened_by_the_least_degree():
    told = [mend.told for mend in mends_of(STUCK["windows"])]
    assert "let Cool film be pressed at 156 °C, if its maker allows it" in told


def test_the_largest_platen_that_frees_a_piece_between_two_zips_is_told():
    assert mends_of(STUCK["metal"])[-1].told == "take a platen of 120 × 500 mm"


def test_no_mend_is_sought_once_planning_is_stopped():
    work = side_work(STUCK["windows"], STUCK["windows"].sides[0])
    assert mends(work, (0, 1), lambda: True) == []


def test_no_piece_is_left_out_of_a_clash_once_planning_is_stopped():
    job = job_with(("leaf", COOL, MIDDLE), ("sun", HOT, ON_IT), ("far", TWILL, Box(480, 640, 40, 40)))
    work = side_work(job, job.sides[0])
    assert clashing_pieces(work, never) == [0, 1]
    assert clashing_pieces(work, lambda: True) == [0, 1, 2]
