"""Plans the hits of a job: sound by every rule, explained, with the proof of how few they can be."""

from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING

from models.errors import NoSequenceFoundError
from models.job.job import Job
from models.plan.plan import Plan
from models.planning.conflicts.diagnose import not_found, refuse_clashes, refuse_impossible
from models.planning.greedy.construct import first_sequence
from models.planning.problem.patterns import ways_to_hit
from models.planning.problem.side import SideWork, side_work
from models.planning.search.best_plan import BestPlan
from models.planning.search.incumbent import SideResult, begun
from models.planning.search.lower_bounds import costs_of
from models.planning.search.side_cache import KnownSides

if TYPE_CHECKING:
    from models.planning.cpsat.solver import Halt
    from models.planning.search.changeover_search import Coursed

Progress = Callable[[Plan], None]
Stop = Callable[[], bool]

EFFORT = 10.0
"""For each side, in the solver's deterministic seconds: near a second each, and the same on every machine."""

EFFORT_IN_ALL = 18.0
"""What the sides of a job share: of more than two each gets less, so that nobody waits long for many."""


def plan_hits(
    job: Job,
    *,
    progress: Progress | None = None,
    stop: Stop | None = None,
    effort: float = EFFORT,
    known: KnownSides | None = None,
) -> Plan:
    """The hits of one garment of `job`; the same job and effort give the same plan every time.

    `effort` is for each side, less where there are many. `progress` is called, in the caller's thread, with
    the first plan and with each that is better or better proved; planning ends with the best so far once
    `stop` says so. Where there is no sound sequence, raises NoSequenceExistsError with the pieces that clash
    and what would free them; NoSequenceFoundError where none was found and that is not proved.
    `known` are sides of this job that were searched before with the same effort.
    """
    told = progress or (lambda _: None)
    best = BestPlan(job, [_begun(work) for work in _works(job, stop or _never_stopped)])
    if best.plan is not None:
        told(best.plan)
    share = min(effort, EFFORT_IN_ALL / max(1, len(best.results)))
    for side, step in _steps(best.results, share, stop, known or KnownSides()):
        if best.hear(side, step) and best.plan is not None:
            told(best.plan)
    if best.settle() and best.plan is not None:
        told(best.plan)
    if best.plan is None:
        raise _not_found(best.results, stop or _never_stopped)
    if best.results and best.go_along(_along_courses(best, best.plan, stop)):
        told(best.plan)
    return best.plan


def _never_stopped() -> bool:
    return False


def _works(job: Job, stop: Stop) -> list[SideWork]:
    works = [side_work(job, side) for side in job.sides if any(p.side == side.name for p in job.pieces)]
    refuse_clashes(works, stop)
    return works


def _begun(work: SideWork) -> SideResult:
    ways = ways_to_hit(work)
    return begun(work, ways, first_sequence(work, ways))


def _steps(
    results: Sequence[SideResult], effort: float, stop: Stop | None, known: KnownSides
) -> Iterator[tuple[int, SideResult]]:
    """The steps of the search, each with the number of its side.

    Raises NoSequenceExistsError where it is proved that a side can't be worked.
    """
    from models.planning.cpsat.solver import heeding  # noqa: PLC0415 - loads the solver, a large library

    heeding(stop, lambda halt: _refuse_impossible(results, halt))
    yield from known.steps_of(results, effort, stop)


def _along_courses(best: BestPlan, plan: Plan, stop: Stop | None) -> "Coursed":
    """As many hits with fewer walks and changes, all sides together, as far as such are found."""
    from models.planning.cpsat.solver import heeding  # noqa: PLC0415 - the same
    from models.planning.search.changeover_search import along_courses  # noqa: PLC0415 - loads the solver

    costs = costs_of(plan.totals)
    return heeding(stop, lambda halt: along_courses(best.results, costs, best.least, halt))


def _refuse_impossible(results: Sequence[SideResult], halt: "Halt") -> None:
    for result in results:
        if result.closings is None:
            refuse_impossible(result.work, result.ways, halt)


def _not_found(results: Sequence[SideResult], stop: Stop) -> NoSequenceFoundError:
    stuck = next(result for result in results if result.closings is None)
    return not_found(stuck.work, stop)
