"""The rests that a plan asks for, estimated piece by piece when it is made."""

from models.heat.over_sizes import over_sizes
from models.heat.piece_rest import PieceRest
from models.heat.rest import rest_of
from models.job.job import Job, Peel
from models.planning.plan import Hit, Plan

RESTS = frozenset({Peel.WARM, Peel.COLD})
"""The peels that have to be waited for."""


def rests_of_sizes(job: Job, plan: Plan) -> tuple[PieceRest, ...]:
    """As `piece_rests`, of all garment sizes; a rest that is not about all of them names its own."""
    return over_sizes(job, plan, piece_rests)


def piece_rests(job: Job, plan: Plan) -> tuple[PieceRest, ...]:
    """For each piece that peels warm or cold its rest on the table, in the order of the peels."""
    return tuple(
        _piece_rest(job, hit, step.piece) for hit in plan.hits for step in hit.peel if step.when in RESTS
    )


def _piece_rest(job: Job, hit: Hit, piece: str) -> PieceRest:
    rest = rest_of(job, hit, (piece,))
    low_s, median_s, high_s = (round(s, 1) for s in (rest.low_s, rest.median_s, rest.high_s))
    return PieceRest(piece, rest.until, low_s, median_s, high_s)
