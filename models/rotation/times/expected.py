"""What a hit is expected to take of press and person, before anything was measured.

Half of a press's handling time goes into loading and half into unloading. The seconds for a piece, a carrier
and a look are our own choice (common practice, no source); the floor's own times soon stand in their place.
"""

from dataclasses import dataclass

from models.job.job import Job, Peel
from models.plan.plan import Hit
from models.rotation.problem.shop import Setting, Visit

LAY_PIECE_S = 4.0
PUT_IN_S = 3.0
"""A pad, or a cover sheet."""
PEEL_S = 3.0
CHECK_PIECE_S = 3.0


@dataclass(frozen=True, slots=True)
class Waits:
    """How long a hit's carriers wait: from the opening until they peel warm, and until they peel cold."""

    warm_s: float = 0.0
    cold_s: float = 0.0


def expected_visit(job: Job, hit: Hit, waits: Waits) -> Visit:
    """The hit as a visit to its press. Hot carriers come off at the press, the others after their waits."""
    handling_s = job.press_named(hit.press).handling_s / 2
    hot, warm, cold = (
        sum(step.when == peel for step in hit.peel) for peel in (Peel.HOT, Peel.WARM, Peel.COLD)
    )
    off_s = handling_s + PEEL_S * hot
    wait_s = max(waits.warm_s if warm else 0.0, waits.cold_s if cold else 0.0)
    return Visit(
        setting=Setting(hit.press, hit.temperature_c),
        lay_s=handling_s + LAY_PIECE_S * len(hit.lay) + PUT_IN_S * (hit.pad + hit.cover),
        dwell_s=hit.dwell_s,
        off_s=off_s,
        rest_s=max(0.0, wait_s - off_s),
        finish_s=PEEL_S * (warm + cold) + CHECK_PIECE_S * max(1, len(hit.count)),
    )
