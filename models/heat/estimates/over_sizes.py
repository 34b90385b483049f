"""One question asked of every garment size, with equal answers put together."""

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import TypeVar

from models.job.job import Job
from models.job.sizes import job_for_most, job_for_size, sizes_of
from models.plan.plan import Plan
from models.recipe.heat_finding import HeatFinding
from models.recipe.piece_rest import PieceRest

Told = TypeVar("Told", HeatFinding, PieceRest)


def over_sizes(job: Job, plan: Plan, tell: Callable[[Job, Plan], Iterable[Told]]) -> tuple[Told, ...]:
    """What `tell` says of each size; an answer that is not about all of them names its own."""
    if not plan.sizes:
        return tuple(tell(job_for_most(job), plan))
    sizes = sizes_of(job)
    told: dict[Told, list[str]] = {}
    for size in sizes:
        for answer in tell(job_for_size(job, size), plan.of_size(size)):
            told.setdefault(answer, []).append(size)
    return tuple(
        replace(answer, sizes=() if len(about) == len(sizes) else tuple(about))
        for answer, about in told.items()
    )
