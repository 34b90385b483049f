"""Which of a plan's totals are proved the least, in the order in which they count."""

from collections.abc import Collection, Iterator, Sequence
from itertools import combinations, takewhile

from models.job.job import Job
from models.planning.plan import Totals
from models.planning.side_result import SideResult
from models.planning.side_work import SideWork


def proved_of(
    job: Job, results: Sequence[SideResult], totals: Totals, least_walks: int = 0
) -> tuple[str, ...]:
    """The names of the totals that are proved; one counts only where all before it are proved.

    So many hits are known to take `least_walks` at the least.
    """
    return tuple(
        name for name, _ in takewhile(lambda each: each[1], _each(job, results, totals, least_walks))
    )


def _each(
    job: Job, results: Sequence[SideResult], totals: Totals, least_walks: int
) -> Iterator[tuple[str, bool]]:
    yield "hits", totals.hits == sum(result.bound for result in results)
    if job.more_presses:
        yield "walks", totals.walks == max(least_walks, fewest_presses(results) - 1)
    fewest = max(0, fewest_temperatures(job) - len(job.presses))  # what each press is first set to is free
    yield "temperature_changes", totals.temperature_changes == fewest
    yield "side_changes", totals.side_changes == len(results) - 1
    yield "dwell_s", all(result.is_least_dwell for result in results)
    fewest_reheats = sum(_fewest_reheats(result, totals) for result in results)
    yield "reheats", totals.reheats in (0, fewest_reheats)


def _fewest_reheats(result: SideResult, totals: Totals) -> int:
    """The side's proved number; where it has none, more than the plan has."""
    return totals.reheats + 1 if result.fewest_reheats is None else result.fewest_reheats


def fewest_temperatures(job: Job) -> int:
    """How many set temperatures it takes for each piece to be pressed at one in its window.

    Taking the lowest upper end each time is the fewest points that stab all intervals.
    """
    hottest_c = job.hottest_c
    used = [job.material_of(piece.id) for piece in job.pieces]
    count, last = 0, float("-inf")
    for upper, lower in sorted((min(m.hottest_c, hottest_c), m.lowest_c) for m in used):
        if lower > last:
            count, last = count + 1, upper
    return count


def fewest_presses(results: Sequence[SideResult]) -> int:
    """How many presses it takes at the least for each part to lie wholly under one of them."""
    able = {_presses_for(result.work, k) for result in results for k in range(len(result.work.parts))}
    every = sorted(frozenset().union(*able))
    return next(
        (n for n in range(1, len(every) + 1) if any(_suffice(some, able) for some in combinations(every, n))),
        1,
    )


def _presses_for(work: SideWork, part: int) -> frozenset[int]:
    return frozenset(spot.press for spot in work.spots if spot.held >> part & 1)


def _suffice(presses: Sequence[int], able: Collection[frozenset[int]]) -> bool:
    return all(not one.isdisjoint(presses) for one in able)
