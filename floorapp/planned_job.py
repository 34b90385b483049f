"""A job file, read, planned and looked at for too little heat: what a batch is loaded from."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from models.heat.heat_finding import HeatFinding
from models.job.job import Job
from models.job.sizes import job_for_most, job_for_size
from models.planning.plan import Hit, Plan, are_worked_alike


@dataclass(frozen=True, slots=True)
class PlannedJob:
    job: Job
    plan: Plan
    heat_findings: tuple[HeatFinding, ...] = ()


@dataclass(frozen=True, slots=True)
class PlannedHit:
    """One hit to look at, with the job and the plan that are its own.

    `sizes` are named where these garments are not worked as most of them are.
    """

    job: Job
    plan: Plan
    hit: Hit
    sizes: tuple[str, ...] = ()


def planned_hits(planned: PlannedJob) -> tuple[PlannedHit, ...]:
    """Those of most garments, then those of sizes that are worked otherwise."""
    job, plan = planned.job, planned.plan
    others = [other for other in plan.sizes if not are_worked_alike(plan, other.plan)]
    own = [(job_for_size(job, other.sizes[0]), other.plan, other.sizes) for other in others]
    ways = [(job_for_most(job), replace(plan, sizes=(), differs=()), ()), *own]
    return tuple(PlannedHit(of, by, hit, sizes) for of, by, sizes in ways for hit in by.hits)


def read_and_plan(
    path: Path, *, progress: Callable[[Plan], None] | None = None, stop: Callable[[], bool] | None = None
) -> PlannedJob:
    """Reads the job file, plans it and estimates its heat. Raises JobRefusedError or NoSoundSequenceError.

    `progress` is told each better plan; once `stop` says so, the best so far is taken.
    """
    from models.heat.heat_findings import findings_of_sizes
    from models.job.reader import read_job
    from models.planning.sizes import plan_sizes

    job = read_job(path)
    plan = plan_sizes(job, progress=progress, stop=stop)
    return PlannedJob(job, plan, findings_of_sizes(job, plan))
