"""A side that is the same in several sizes is searched once, and comes to the same in each."""

from dataclasses import replace

import pytest

from models.geometry import Box
from models.job.job import Job, Side, Zone, ZoneKind
from models.planning.greedy.construct import first_sequence
from models.planning.problem.patterns import ways_to_hit
from models.planning.problem.side import side_work
from models.planning.search.incumbent import SideResult, begun
from models.planning.search.side_cache import KnownSides
from models.planning.search.solve_job import plan_hits
from tests.random_jobs import random_job

EFFORT = 0.5


@pytest.fixture
def job() -> Job:
    return random_job(3, pieces=20, sides=2)


def with_rivet(job: Job) -> Job:
    """The front has a rivet far from all pieces, the back is as it was."""
    back, front = job.sides
    rivet = Zone(ZoneKind.KEEP_OUT, Box(front.width_mm + 900, 0, 10, 10), "rivet")
    return replace(job, sides=(back, replace(front, zones=(*front.zones, rivet))))


def begun_on(job: Job, side: Side) -> SideResult:
    work = side_work(job, side)
    ways = ways_to_hit(work)
    return begun(work, ways, first_sequence(work, ways))


def searched(job: Job, known: KnownSides, *, is_stopped: bool = False) -> list[tuple[int, int, int]]:
    """The number of each side's hits and its bound, step by step."""
    steps = known.steps_of([begun_on(job, side) for side in job.sides], EFFORT, lambda: is_stopped)
    return [(side, len(step.closings or ()), step.bound) for side, step in steps]


def test_a_side_that_was_searched_is_not_searched_again(job: Job) -> None:
    known = KnownSides()
    first = searched(job, known)
    assert sorted(searched(job, known, is_stopped=True)) == sorted(first)


def test_a_side_with_metal_elsewhere_is_searched_anew(job: Job) -> None:
    known = KnownSides()
    first = searched(job, known)
    again = searched(with_rivet(job), known, is_stopped=True)
    assert [step for step in again if step[0] == 0] == [step for step in first if step[0] == 0]
    assert [step for step in again if step[0] == 1] != [step for step in first if step[0] == 1]


def test_a_search_that_was_stopped_is_not_remembered(job: Job) -> None:
    known = KnownSides()
    stopped = searched(job, known, is_stopped=True)
    assert sorted(searched(job, known)) != sorted(stopped)


def test_a_plan_from_known_sides_is_the_plan_that_the_job_has_without_them(job: Job) -> None:
    known, other = KnownSides(), with_rivet(job)
    plan_hits(job, effort=EFFORT, known=known)
    assert plan_hits(other, effort=EFFORT, known=known) == plan_hits(other, effort=EFFORT)
