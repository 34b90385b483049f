"""Plans the hits of a job: sound by every rule, explained, with the proof of how few they can be."""

from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING

from models.errors import NoSoundSequenceError
from models.job.job import Job
from models.planning.best_plan import BestPlan
from models.planning.candidates import ways_to_hit
from models.planning.clashes import refuse_clashes, refuse_impossible, why_stuck
from models.planning.greedy import first_sequence
from models.planning.plan import Plan
from models.planning.side_result import SideResult, begun
from models.planning.side_work import SideWork, side_work

if TYPE_CHECKING:
    from models.planning.fewest_walks import Walked

Progress = Callable[[Plan], None]
Stop = Callable[[], bool]

EFFORT = 10.0
"""For each side, in the solver's deterministic seconds: near a second each, and the same on every machine."""


def plan_hits(
    job: Job, *, progress: Progress | None = None, stop: Stop | None = None, effort: float = EFFORT
) -> Plan:
    """The hits of one garment of `job`; the same job and effort give the same plan every time.

    `progress` is called, in the caller's thread, with the first plan and with each that is better or better
    proved; planning ends with the best so far once `stop` says so. Raises NoSoundSequenceError, with the
    pieces that clash and what would free them, where no sound sequence is found.
    """
    told = progress or (lambda _: None)
    best = BestPlan(job, [_begun(work) for work in _works(job)])
    if best.plan is not None:
        told(best.plan)
    for side, step in _steps(best.results, effort, stop):
        if best.hear(side, step) and best.plan is not None:
            told(best.plan)
    if best.settle() and best.plan is not None:
        told(best.plan)
    if best.plan is None:
        raise NoSoundSequenceError(_why_none(best.results))
    if job.more_presses and best.walk(_less_walked(best.results, best.plan, stop)):
        told(best.plan)
    return best.plan


def _works(job: Job) -> list[SideWork]:
    works = [side_work(job, side) for side in job.sides if any(p.side == side.name for p in job.pieces)]
    for work in works:
        refuse_clashes(work)
    return works


def _begun(work: SideWork) -> SideResult:
    ways = ways_to_hit(work)
    return begun(work, ways, first_sequence(work, ways))


def _steps(
    results: Sequence[SideResult], effort: float, stop: Stop | None
) -> Iterator[tuple[int, SideResult]]:
    """The steps of the search, each with the number of its side.

    Raises NoSoundSequenceError where it is proved that a side can't be worked.
    """
    from models.planning.parallel_search import steps_of  # noqa: PLC0415 - loads the solver, a large library

    for result in results:
        if result.closings is None:
            refuse_impossible(result.work)
    yield from steps_of(results, effort, stop)


def _less_walked(results: Sequence[SideResult], plan: Plan, stop: Stop | None) -> "Walked":
    """As many hits with fewer walks between the presses, as far as such are found."""
    from models.planning.fewest_walks import fewer_walks  # noqa: PLC0415 - loads the solver
    from models.planning.halting import heeding  # noqa: PLC0415 - the same

    return heeding(stop, lambda halt: fewer_walks(results, plan.totals.walks, halt))


def _why_none(results: Sequence[SideResult]) -> str:
    stuck = next(result for result in results if result.closings is None)
    return why_stuck(stuck.work, stuck.ways)
