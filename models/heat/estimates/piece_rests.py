"""The rests that a plan asks for, estimated piece by piece and place by place when it is made."""

from collections.abc import Iterator

from models.heat.estimates.over_sizes import over_sizes
from models.heat.estimates.rest import rests_everywhere
from models.job.job import Job, Peel
from models.plan.plan import Hit, Plan
from models.recipe.piece_rest import PieceRest

RESTS = frozenset({Peel.WARM, Peel.COLD})
"""The peels that have to be waited for."""


def rests_of_sizes(job: Job, plan: Plan) -> tuple[PieceRest, ...]:
    """As `piece_rests`, of all garment sizes; a rest that is not about all of them names its own."""
    return over_sizes(job, plan, piece_rests)


def piece_rests(job: Job, plan: Plan) -> tuple[PieceRest, ...]:
    """For each piece that peels warm or cold its rest at each place, in the order of the peels."""
    return tuple(
        rest
        for hit in plan.hits
        for step in hit.peel
        if step.when in RESTS
        for rest in _piece_rests(job, hit, step.piece)
    )


def _piece_rests(job: Job, hit: Hit, piece: str) -> Iterator[PieceRest]:
    for rest in rests_everywhere(job, hit, piece):
        low_s, median_s, high_s = (round(s, 1) for s in (rest.low_s, rest.median_s, rest.high_s))
        yield PieceRest(piece, rest.until, low_s, median_s, high_s, place=rest.place)
