"""A job file, read and planned, its heat and its rests estimated: what a batch is loaded from."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from models.job.job import Job
from models.job.sizes import job_for_most, job_for_size
from models.plan.plan import Hit, Plan, are_worked_alike
from models.plan.progress import SoFar
from models.recipe.heat_finding import HeatFinding
from models.recipe.piece_rest import PieceRest


@dataclass(frozen=True, slots=True)
class PlannedJob:
    job: Job
    plan: Plan
    heat_findings: tuple[HeatFinding, ...] = ()
    rests: tuple[PieceRest, ...] = ()
    remarks: tuple[str, ...] = ()
    """What a person should know before the job is loaded, though nothing is refused for it; not stored."""


@dataclass(frozen=True, slots=True)
class Way:
    """How some garments are worked: their job and their hits.

    `sizes` are named where these are not worked as most garments are.
    """

    job: Job
    plan: Plan
    sizes: tuple[str, ...] = ()


def ways_of(planned: PlannedJob) -> tuple[Way, ...]:
    """That of most garments, then those of sizes that are worked otherwise."""
    job, plan = planned.job, planned.plan
    most = Way(job_for_most(job), replace(plan, sizes=(), differs=()))
    others = (other for other in plan.sizes if not are_worked_alike(plan, other.plan))
    return (most, *(Way(job_for_size(job, other.sizes[0]), other.plan, other.sizes) for other in others))


def planned_hits(planned: PlannedJob) -> tuple[tuple[Way, Hit], ...]:
    """All hits that there are to look at, in the order of `ways_of`."""
    return tuple((way, hit) for way in ways_of(planned) for hit in way.plan.hits)


def read_and_plan(
    path: Path, *, progress: Callable[[SoFar], None] | None = None, stop: Callable[[], bool] | None = None
) -> PlannedJob:
    """Reads the job file, plans it, estimates its heat and its rests, and says whose name no font can draw.

    `progress` is told each better plan, and for which sizes; once `stop` says so, the best so far is taken.
    Raises JobRefusedError or NoSoundSequenceError.
    """
    from models.heat.estimates.heat_findings import findings_of_sizes
    from models.heat.estimates.piece_rests import rests_of_sizes
    from models.job.reader import read_job
    from models.planning.planner import plan_sizes
    from printables.missing_letters import remarks_on_letters
    from printables.system_fonts import system_fonts

    remarks: list[str] = []
    job = read_job(path, remarks.append)
    remarks += remarks_on_letters(job, system_fonts())
    plan = plan_sizes(job, progress=progress, stop=stop)
    return PlannedJob(job, plan, findings_of_sizes(job, plan), rests_of_sizes(job, plan), tuple(remarks))
