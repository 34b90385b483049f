"""A job file, read, planned and looked at for too little heat: what a batch is loaded from."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from models.heat.heat_finding import HeatFinding
from models.job.job import Job
from models.planning.plan import Plan


@dataclass(frozen=True, slots=True)
class PlannedJob:
    job: Job
    plan: Plan
    heat_findings: tuple[HeatFinding, ...] = ()


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
