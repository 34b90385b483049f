"""Laying pieces anew on a garment that has others on it: what lies on what, and where carriers would lie."""

from collections.abc import Collection, Iterator, Sequence

from shapely.geometry.base import BaseGeometry

from models.errors import NoExtraHitError
from models.job.job import Job
from models.job.outlines import to_shapely
from models.planning.plan import Hit
from models.planning.stacking import OVERLAP_MM2, carrier_of, stacked_pairs
from models.planning.trouble import Pressed


def refuse_covered(now: Pressed, replaced: Collection[str]) -> None:
    """Raises NoExtraHitError where a piece that stays lies on one that is to be replaced."""
    for upper, lower in stacked_pairs(now.job):
        if lower in replaced and upper not in replaced and now.records[upper].laid:
            names = f"{_label(now, lower)} cannot be replaced: {_label(now, upper)} lies on it"
            raise NoExtraHitError(f"{names}; replace both, or hold the garment")


def laying_fault(now: Pressed, hits: Sequence[Hit]) -> str:
    """The first thing that is wrong with what `hits` lay, when they are pressed in turn; or empty."""
    if not any(hit.lay for hit in hits):
        return ""
    stacked = set(stacked_pairs(now.job))
    for hit in hits:
        for piece in hit.lay:
            for fault in _faults(now, hit, piece, stacked):
                return fault
        now = now.after(hit)
    return ""


def _faults(now: Pressed, hit: Hit, piece: str, stacked: set[tuple[str, str]]) -> Iterator[str]:
    """What keeps `piece` from being laid for `hit`: a lower piece that is not down, or a carrier."""
    job, side = now.job, now.job.piece(piece).side
    shape, carrier = to_shapely(job.piece(piece).outline), _carrier(job, piece)
    for other in (p.id for p in job.pieces if p.side == side and p.id != piece):
        record = now.records[other]
        if not record.laid and other not in hit.lay:
            continue
        others = to_shapely(job.piece(other).outline)
        if (piece, other) in stacked and not record.down:
            yield f"{_label(now, piece)} lies on {_label(now, other)}, which is not down yet"
        if not record.down and other not in now.peeled and _overlap(_carrier(job, other), shape):
            yield f"the carrier of {_label(now, other)} would lie on {_label(now, piece)}"
        if _overlap(carrier, others) and not record.down:
            yield f"the carrier of {_label(now, piece)} would lie on {_label(now, other)}, not down yet"
        is_safe = job.material_of(other).carrier_safe or (piece, other) in stacked
        if _overlap(carrier, others) and not is_safe:
            yield f"the carrier of {_label(now, piece)} would lie on {_label(now, other)}, which takes none"


def _carrier(job: Job, piece: str) -> BaseGeometry | None:
    return carrier_of(job.piece(piece), job.material_of(piece))


def _overlap(carrier: BaseGeometry | None, shape: BaseGeometry) -> bool:
    return carrier is not None and bool(carrier.intersection(shape).area > OVERLAP_MM2)


def _label(now: Pressed, piece: str) -> str:
    return now.job.piece(piece).label
