"""What holds of the plan of any job, on jobs drawn at random; the rule checker and full enumeration judge."""

from collections.abc import Callable
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from models.errors import NoSoundSequenceError
from models.geometry import Box, Point
from models.job.job import Job, Material, Piece, Side
from models.plan.plan import Plan, PlanStatus
from models.planning.search.solve_job import plan_hits
from tests.enumeration import Best, Cost, best_of
from tests.random_jobs import (
    between_rivets,
    holding_at_first,
    in_two_heats,
    jobs,
    random_job,
    with_second_press,
)
from tests.rule_checker import broken_rules
from tests.sample_jobs import crew_vest_job

QUICK_S = {  # least, longest, total: so few that all of them can be tried
    "printed-twill": (3, 4, 6),
    "raised-foam": (2, 4, 5),
    "glitter-film": (1, 2, 4),
    "thin-film": (1, 2, 3),
    "ink-transfer": (2, 2, 4),
    "flock": (2, 3, 4),
    "woven-patch": (2, 3, 5),
}
SEEDS_OF_FOUR = [0, 3, 5, 6, 9, 10, 12, 14, 15, 24, 26, 30, 36, 37, 39]  # enumerated within a second each
SEEDS_ON_TWO_PRESSES = [0, 1, 2, 3, 4, 6, 7, 8, 9, 10, 11, 12]
MIRROR_MM = 560  # about x = 280 mm, so that corners on whole mm stay on whole mm

seeds = st.integers(0, 2**32 - 1)
few = settings(max_examples=25, deadline=None)


def as_drawn(job: Job) -> Job:
    return job


CHANGES = (as_drawn, in_two_heats, holding_at_first)


def quick(material: Material) -> Material:
    least_s, longest_s, total_s = QUICK_S[material.key]
    finish_s = min(material.finish_s, 1)
    return replace(
        material,
        least_s=least_s,
        longest_s=longest_s,
        total_s=total_s,
        finish_s=finish_s,
        first_s=min(material.first_s, least_s - 1),
    )


def in_few_seconds(job: Job) -> Job:
    materials = tuple(map(quick, job.materials))
    return replace(job, materials=materials, press=replace(job.press, shortest_s=1))


def tiny_job(seed: int, pieces: int, sides: int = 1, change: Callable[[Job], Job] = as_drawn) -> Job:
    return in_few_seconds(change(random_job(seed, pieces, sides)))


def planned(job: Job) -> Plan | None:
    try:
        return plan_hits(job)
    except NoSoundSequenceError:
        return None


def hits_of(job: Job) -> int | None:
    """The proved number of hits."""
    plan = planned(job)
    if plan is None:
        return None
    assert plan.status == PlanStatus.OPTIMAL
    assert broken_rules(job, plan) == []
    return len(plan.hits)


def proved_totals(plan: Plan, other: Plan) -> dict[str, int]:
    """The totals of `plan` that are proved in both."""
    return {name: getattr(plan.totals, name) for name in plan.proved if name in other.proved}


def with_all_moved(job: Job, move_point: Callable[[Point], Point], move_box: Callable[[Box], Box]) -> Job:
    """The job with everything that lies on its sides taken elsewhere."""

    def piece_moved(piece: Piece) -> Piece:
        return replace(piece, outline=piece.outline.mapped(move_point))

    def side_moved(side: Side) -> Side:
        return replace(side, zones=tuple(replace(zone, box=move_box(zone.box)) for zone in side.zones))

    return replace(job, pieces=tuple(map(piece_moved, job.pieces)), sides=tuple(map(side_moved, job.sides)))


def moved(job: Job, dx_mm: int, dy_mm: int) -> Job:
    return with_all_moved(job, lambda p: (p[0] + dx_mm, p[1] + dy_mm), lambda box: box.moved(dx_mm, dy_mm))


def mirrored(job: Job) -> Job:
    return with_all_moved(
        job, lambda p: (MIRROR_MM - p[0], p[1]), lambda box: replace(box, x=MIRROR_MM - box.right)
    )


def assert_same_totals(job: Job, other: Job) -> None:
    plan, other_plan = planned(job), planned(other)
    if plan is None or other_plan is None:
        assert plan is other_plan
        return
    assert broken_rules(other, other_plan) == []
    assert "hits" in plan.proved
    assert proved_totals(plan, other_plan) == proved_totals(other_plan, plan)
    assert plan.totals.hits == other_plan.totals.hits


@given(job=jobs(max_pieces=8, max_sides=2))
@few
def test_the_same_job_gives_the_same_plan_every_time(job: Job) -> None:
    assert planned(job) == planned(job)


@given(job=jobs(max_pieces=6, max_sides=2), dx_mm=st.integers(-40, 40), dy_mm=st.integers(-40, 40))
@few
def test_a_job_moved_as_a_whole_has_the_same_totals(job: Job, dx_mm: int, dy_mm: int) -> None:
    assert_same_totals(job, moved(job, dx_mm, dy_mm))


@given(job=jobs(max_pieces=6, max_sides=2))
@few
def test_a_job_mirrored_as_a_whole_has_the_same_totals(job: Job) -> None:
    assert_same_totals(job, mirrored(job))


@given(job=jobs(max_pieces=7, max_sides=2), data=st.data())
@few
def test_a_piece_more_never_takes_fewer_hits(job: Job, data: st.DataObject) -> None:
    assume(job.pieces)
    added = data.draw(st.sampled_from(job.pieces))
    without = replace(job, pieces=tuple(piece for piece in job.pieces if piece != added))
    fewer, more = hits_of(without), hits_of(job)
    assert more is None or (fewer is not None and fewer <= more)


def assert_is_the_best(job: Job) -> None:
    plan, best = planned(job), best_of(job)
    if plan is None or best is None:
        assert plan is best
        return
    found = Best(plan.totals.hits, Cost(*(getattr(plan.totals, name) for name in Cost._fields)))
    assert broken_rules(job, plan) == []
    assert found == best
    assert plan.proved[-1] == "reheats"


@given(seed=seeds, pieces=st.integers(1, 3), sides=st.integers(1, 2), change=st.sampled_from(CHANGES))
@few
def test_every_total_is_the_least_that_trying_everything_finds(
    seed: int, pieces: int, sides: int, change: Callable[[Job], Job]
) -> None:
    assert_is_the_best(tiny_job(seed, pieces, sides, change))


@pytest.mark.parametrize("seed", SEEDS_OF_FOUR)
def test_every_total_of_four_pieces_is_the_least_that_trying_everything_finds(seed: int) -> None:
    assert_is_the_best(tiny_job(seed, pieces=4))


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize("change", CHANGES)
@pytest.mark.parametrize("sides", [1, 3])
def test_every_total_of_three_pieces_is_the_least_that_trying_everything_finds(
    seed: int, change: Callable[[Job], Job], sides: int
) -> None:
    assert_is_the_best(tiny_job(seed, 3, sides, change))


@pytest.mark.parametrize("seed", SEEDS_ON_TWO_PRESSES)
@pytest.mark.parametrize("change", CHANGES)
def test_every_total_on_two_presses_is_the_least_that_trying_everything_finds(
    seed: int, change: Callable[[Job], Job]
) -> None:
    """A rivet at each side of one piece, so that one press alone will mostly not do."""
    sides = 1 + seed % 2
    assert_is_the_best(with_second_press(between_rivets(tiny_job(seed, 3, sides, change), seed)))


def test_trying_everything_finds_the_best_for_the_crew_vest() -> None:
    """By hand: the twill begins with 2 of its 3 s, and so does the foam, which the last one heats again; the
    glitter wants a single second, the last.
    """
    assert best_of(in_few_seconds(crew_vest_job())) == Best(2, Cost(dwell_s=3, reheats=1))
