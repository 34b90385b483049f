"""Plans the hits of a job: sound by every rule, explained, with the proof of how few they can be."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import astuple, replace

from models.errors import NoSoundSequenceError
from models.job.job import Job
from models.planning.candidates import ways_to_hit
from models.planning.clashes import refuse_clashes, refuse_impossible, why_stuck
from models.planning.greedy import first_sequence
from models.planning.hit_writing import totals_of, written_hits
from models.planning.interleaving import interleaved
from models.planning.plan import Plan, PlanStatus
from models.planning.proof import proved_of
from models.planning.reasons import reasons
from models.planning.side_result import SideResult, begun
from models.planning.side_work import SideWork, side_work
from models.planning.strokes import strokes_of

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
    results = [_begun(work) for work in _works(job)]
    plan = _plan(job, results)
    if plan is not None and progress is not None:
        progress(plan)
    for side, step in _steps(results, effort, stop):
        results, better = _taken(job, results, side, step, plan)
        if better is not None and better != plan and progress is not None:
            progress(better)
        plan = better
    if plan is None:
        raise NoSoundSequenceError(_why_none(results))
    return plan


def _taken(
    job: Job, results: list[SideResult], side: int, step: SideResult, plan: Plan | None
) -> tuple[list[SideResult], Plan | None]:
    """What is known with the new step: its sequence if the plan is as good with it, its bound anyway."""
    taken = [step if k == side else result for k, result in enumerate(results)]
    better = _plan(job, taken)
    if plan is None or better is None or costs(better) <= costs(plan):
        return taken, better
    kept = [replace(r, bound=step.bound) if k == side else r for k, r in enumerate(results)]
    return kept, _plan(job, kept)


def costs(plan: Plan) -> tuple[int, ...]:
    """What is best, smallest first."""
    return astuple(plan.totals)


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
    from models.planning.side_search import quickened  # noqa: PLC0415 - as well

    quick = [quickened(result) for result in results]
    yield from enumerate(quick)
    for result in quick:
        if result.closings is None:
            refuse_impossible(result.work)
    yield from steps_of(quick, effort, stop)


def _why_none(results: Sequence[SideResult]) -> str:
    stuck = next(result for result in results if result.closings is None)
    return why_stuck(stuck.work, stuck.ways)


def _plan(job: Job, results: Sequence[SideResult]) -> Plan | None:
    """The plan from what is known of each side; None while one of them has no sequence."""
    sides = [strokes_of(result.work, result.closings) for result in results if result.closings is not None]
    if len(sides) < len(results):
        return None
    strokes = interleaved(sides)
    hits = written_hits(job, strokes)
    said = [reasons(hit, stroke) for hit, (stroke, _) in zip(hits, strokes, strict=True)]
    explained = tuple(replace(hit, why=why) for hit, why in zip(hits, said, strict=True))
    bound = sum(result.bound for result in results)
    status = PlanStatus.OPTIMAL if len(hits) == bound else PlanStatus.FEASIBLE
    totals = totals_of(explained)
    return Plan(status, bound, explained, totals, proved_of(job, results, totals))
