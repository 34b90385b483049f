"""What a hit is expected to take of press and person, before anything was measured.

Half of a press's handling time goes into loading and half into unloading. The seconds for a piece, a carrier
and a look are our own choice (common practice, no source); the floor's own times soon stand in their place.
"""

from models.job.job import Job, Peel
from models.planning.plan import Hit
from models.rotation.shop import Setting, Visit

LAY_PIECE_S = 4.0
PUT_IN_S = 3.0
"""A pad, or a cover sheet."""
PEEL_S = 3.0
CHECK_PIECE_S = 3.0


def expected_visit(job: Job, hit: Hit, rest_s: float) -> Visit:
    """The hit as a visit to its press; it rests for `rest_s` where it has cold peels."""
    handling_s = job.press_named(hit.press).handling_s / 2
    cold = sum(step.when == Peel.COLD for step in hit.peel)
    return Visit(
        setting=Setting(hit.press, hit.temperature_c),
        lay_s=handling_s + LAY_PIECE_S * len(hit.lay) + PUT_IN_S * (hit.pad + hit.cover),
        dwell_s=hit.dwell_s,
        off_s=handling_s + PEEL_S * (len(hit.peel) - cold),
        rest_s=rest_s if cold else 0.0,
        finish_s=PEEL_S * cold + CHECK_PIECE_S * max(1, len(hit.count)),
    )
