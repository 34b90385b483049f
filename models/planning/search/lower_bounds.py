"""Below what no plan of a job can cost, and which of a plan's totals are thereby proved the least."""

from collections.abc import Collection, Iterator, Sequence
from itertools import combinations
from typing import NamedTuple

from models.job.job import Job
from models.plan.plan import OBJECTIVES, Totals
from models.planning.problem.side import SideWork
from models.planning.search.incumbent import SideResult


class Costs(NamedTuple):
    """What is best, smallest first: the totals in the order in which they count."""

    hits: int
    walks: int
    temperature_changes: int
    side_changes: int
    dwell_s: int
    reheats: int


def costs_of(totals: Totals) -> Costs:
    return Costs(*(getattr(totals, name) for name in OBJECTIVES))


def least_costs(job: Job, results: Sequence[SideResult]) -> Costs:
    """No plan costs less, as far as each side by itself shows it."""
    fewest_changes = fewest_temperatures(job) - len(job.presses)  # what each press is first set to is free
    return Costs(
        hits=sum(result.bound for result in results),
        walks=fewest_presses(results) - 1 if job.more_presses else 0,
        temperature_changes=max(0, fewest_changes),
        side_changes=max(0, len(results) - 1),
        dwell_s=sum(result.least_dwell_s for result in results),
        reheats=sum(result.least_reheats for result in results),
    )


def proved_of(job: Job, totals: Totals, least: Costs) -> tuple[str, ...]:
    """The names of the totals that are proved; one counts only where all before it are proved."""
    return tuple(name for name in _reached(costs_of(totals), least) if name != "walks" or job.more_presses)


def _reached(costs: Costs, least: Costs) -> Iterator[str]:
    for name, cost, at_least in zip(OBJECTIVES, costs, least, strict=True):
        if cost > at_least:
            return
        yield name


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
