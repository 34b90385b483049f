"""Plans the hits of a job: sound by every rule, explained, with a proved bound on how few they can be."""

from collections.abc import Callable
from dataclasses import replace

from models.errors import NoSoundSequenceError
from models.job.job import Job
from models.planning.bounds import fewest_hits
from models.planning.candidates import Way, ways_to_hit
from models.planning.clashes import refuse_clashes, why_stuck
from models.planning.greedy import Closings, greedy_sequence
from models.planning.hit_writing import totals_of, written_hits
from models.planning.interleaving import interleaved
from models.planning.plan import Plan, PlanStatus
from models.planning.reasons import reasons
from models.planning.side_work import SideWork, side_work
from models.planning.strokes import strokes_of

Progress = Callable[[Plan], None]
Stop = Callable[[], bool]


def plan_hits(job: Job, *, progress: Progress | None = None, stop: Stop | None = None) -> Plan:
    """The hits of one garment of `job`; the same job gives the same plan every time.

    `progress` is called with each better plan as it is found; planning ends with the best so far once `stop`
    says so. Raises NoSoundSequenceError, with the pieces that clash and what would free them, where no sound
    sequence is found.
    """
    works = [side_work(job, side) for side in job.sides if any(p.side == side.name for p in job.pieces)]
    for work in works:
        refuse_clashes(work)
    planned = [(work, ways, _sequence(work, ways)) for work in works for ways in (ways_to_hit(work),)]
    bound = sum(fewest_hits(work, ways) for work, ways, _ in planned)
    plan = _written(job, [(work, closings) for work, _, closings in planned], bound)
    if progress is not None:
        progress(plan)
    return plan


def _sequence(work: SideWork, ways: tuple[Way, ...]) -> Closings:
    closings = greedy_sequence(work, ways)
    if closings is None:
        raise NoSoundSequenceError(why_stuck(work, ways))
    return closings


def _written(job: Job, sequences: list[tuple[SideWork, Closings]], bound: int) -> Plan:
    strokes = interleaved([strokes_of(work, closings) for work, closings in sequences])
    hits = written_hits(job, strokes)
    said = [reasons(job, hits, k, stroke) for k, (stroke, _) in enumerate(strokes)]
    explained = tuple(replace(hit, why=why) for hit, why in zip(hits, said, strict=True))
    status = PlanStatus.OPTIMAL if len(hits) == bound else PlanStatus.FEASIBLE
    return Plan(status, bound, explained, totals_of(explained))
