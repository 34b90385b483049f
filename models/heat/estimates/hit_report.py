"""All that the estimates tell of one closing: its heat, what delays it, what is too little, the rest."""

from dataclasses import dataclass

from models.heat.estimates.delays import Delay, delays
from models.heat.estimates.heat_findings import heat_findings
from models.heat.estimates.hit_heat import HitHeat, hit_heat
from models.heat.estimates.rest import RestEstimate, rest_of, rests_everywhere
from models.job.job import Job
from models.plan.plan import Hit, Plan
from models.recipe.heat_finding import HeatFinding
from models.recipe.places import REST_PLACE, Place


@dataclass(frozen=True, slots=True)
class HitReport:
    """`delays` are those of the slowest piece, `elsewhere` is the same rest at the other places. `findings`
    are about the pieces that the hit counts for, over all hits of the plan; it has none for a hit that is no
    hit of the plan, as a re-press.
    """

    heat: HitHeat
    delays: tuple[Delay, ...]
    rest: RestEstimate
    elsewhere: tuple[RestEstimate, ...]
    findings: tuple[HeatFinding, ...]
    is_planned: bool


def hit_report(job: Job, plan: Plan, hit: Hit, place: Place = REST_PLACE) -> HitReport:
    """Of a garment whose size `job` and `plan` are about, and that rests at `place`.

    Raises:
        CalculationError: the hit presses no piece.
    """
    heat = hit_heat(job, hit)
    peeled = tuple(step.piece for step in hit.peel)
    is_planned = hit in plan.hits
    rest = rest_of(job, hit, peeled or hit.count or hit.touch_again, place)
    return HitReport(
        heat=heat,
        delays=delays(job, hit, heat.slowest.piece) if heat.slowest else (),
        rest=rest,
        elsewhere=tuple(other for other in rests_everywhere(job, hit, rest.piece) if other.place != place),
        findings=tuple(found for found in heat_findings(job, plan) if found.piece in hit.count)
        if is_planned
        else (),
        is_planned=is_planned,
    )
