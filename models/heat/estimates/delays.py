"""What a seam, a pad and a cover sheet add to the seconds until an adhesive is up to heat."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from models.heat.estimates.heat_through import likely_seconds_to, to_heat_c
from models.heat.layup.placed import ground_of, materials_below, stack_on
from models.heat.layup.stack import Ground
from models.job.job import Job
from models.plan.plan import Hit
from models.recipe.heat_finding import NEVER_S


@dataclass(frozen=True, slots=True)
class Delay:
    """Seconds that one thing in the stack adds until the adhesive is up to heat; infinite: it never is."""

    by: str
    seconds: float


def delays(job: Job, hit: Hit, piece_id: str) -> tuple[Delay, ...]:
    """What each thing on the piece's ground adds, and what one more cover sheet would add."""
    below = materials_below(job)
    here = ground_of(job, hit, piece_id)
    target_c = to_heat_c(job.material_of(piece_id))

    def seconds(ground: Ground) -> float:
        return likely_seconds_to(stack_on(job, hit, piece_id, below, ground), target_c)

    more = replace(here, cover_sheets=here.cover_sheets + 1)
    added = [Delay(by, _added(seconds(here), seconds(less))) for by, less in _without_each(here)]
    return (*added, Delay("one more cover sheet", _added(seconds(more), seconds(here))))


def _without_each(ground: Ground) -> Iterator[tuple[str, Ground]]:
    """Each thing that lies there, with the ground as it would be without it."""
    if ground.cover_sheets:
        yield "cover sheet", replace(ground, cover_sheets=0)
    if ground.seam:
        yield "seam", replace(ground, seam=False)
    if ground.pad:
        yield "pad", replace(ground, pad=False)


def _added(with_s: float, without_s: float) -> float:
    return NEVER_S if with_s == NEVER_S else with_s - without_s
