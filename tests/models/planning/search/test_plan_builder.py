"""A plan is written side by side, a known side from memory, and reads as if all of it were written anew."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import product

import pytest

from models.job.job import Job
from models.plan.plan import Hit
from models.planning.assembly.hit_builder import written_hits
from models.planning.greedy.construct import first_sequence
from models.planning.problem.patterns import ways_to_hit
from models.planning.problem.side import side_work
from models.planning.search.incumbent import SideResult, begun
from models.planning.search.plan_builder import PlanWriter
from tests.random_jobs import random_job


def each_side_worked_two_ways(job: Job) -> list[tuple[SideResult, SideResult]]:
    """What is tried first wins among equals, so that the same ways the other way round end in other hits."""
    works = [side_work(job, side) for side in job.sides]
    ways_of_each = [ways_to_hit(work) for work in works]
    return [
        (
            begun(work, ways, first_sequence(work, ways)),
            begun(work, ways, first_sequence(work, ways[::-1])),
        )
        for work, ways in zip(works, ways_of_each, strict=True)
    ]


def written_anew(results: Sequence[SideResult]) -> tuple[Hit, ...] | None:
    return PlanWriter().hits(results)


@pytest.mark.parametrize("seed", [12, 23])
def test_a_plan_with_sides_from_memory_reads_as_if_it_were_written_anew(seed: int) -> None:
    sides = each_side_worked_two_ways(random_job(seed, pieces=20, sides=3))
    assert all(one.closings != other.closings for one, other in sides)

    writer = PlanWriter()
    for results in product(*sides):
        assert writer.hits(results) == written_anew(results)


def test_a_side_is_not_written_again_when_another_side_is_worked_in_another_way() -> None:
    changed, *others = each_side_worked_two_ways(random_job(12, pieces=20, sides=3))
    same, writer = [side[0] for side in others], PlanWriter()
    before, after = (writer.hits([result, *same]) for result in changed)

    assert before != after
    assert sentences_on(same, before) == sentences_on(same, after)


def test_no_plan_is_written_while_a_side_has_no_sequence() -> None:
    (one, _), (other, _) = each_side_worked_two_ways(random_job(12, pieces=20, sides=2))
    assert PlanWriter().hits([one, replace(other, closings=None)]) is None


def sentences_on(results: Sequence[SideResult], hits: tuple[Hit, ...] | None) -> list[int]:
    """The very sentences, not only what they say: a hit that is not written again keeps them."""
    assert hits is not None
    names = {result.work.side.name for result in results}
    return [id(hit.why) for hit in hits if hit.side in names]


def test_a_side_on_which_nothing_is_left_to_do_has_no_hits():
    assert written_hits([]) == ()
