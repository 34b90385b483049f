"""Laying pieces anew on a garment that has others on it: what lies on what, and where carriers would lie."""

from collections.abc import Callable, Collection, Iterator, Sequence

from shapely.geometry.base import BaseGeometry

from models.errors import NoExtraHitError
from models.job.job import Job
from models.job.outlines import to_shapely
from models.job.stacking import OVERLAP_MM2, carrier_of, stacked_pairs
from models.plan.plan import Hit
from models.planning.problem.bitset import bits_of
from models.planning.problem.precedence import Waiting, waiting
from models.planning.rework.incident import Pressed
from models.planning.rework.rules import Laying
from models.text import in_a_row


def refuse_covered(now: Pressed, replaced: Collection[str]) -> None:
    """Raises NoExtraHitError where a piece that stays lies on one that is to be replaced."""
    for upper, lower in stacked_pairs(now.job):
        if lower in replaced and upper not in replaced and now.records[upper].laid:
            names = f"{_label(now, lower)} cannot be replaced: {_label(now, upper)} lies on it"
            raise NoExtraHitError(f"{names}; replace both, or hold the garment")


def laying_of(now: Pressed, pieces: Sequence[str]) -> Laying:
    """What laying heeds among these pieces, all of one side; they are numbered as they stand.

    Raises NoExtraHitError where some that are not laid yet can't be laid, whatever is pressed before.
    """
    rules = waiting(now.job, [now.job.piece(piece) for piece in pieces])
    laying = _laying(now, pieces, rules)
    new = [n for n, piece in enumerate(pieces) if not now.records[piece].laid]
    for n in new:
        for other in (k for k in range(len(pieces)) if k not in new and laying.takes_none[n] >> k & 1):
            raise NoExtraHitError(_takes_none(now, pieces[n], pieces[other]))
    clashing = rules.among(new)
    for a, b in clashing.deadlocks():
        raise NoExtraHitError(_no_order(now, (pieces[new[a]], pieces[new[b]])))
    if clashing.circle():
        raise NoExtraHitError(_no_order(now, [pieces[new[k]] for k in clashing.circle()]))
    return laying


def _laying(now: Pressed, pieces: Sequence[str], rules: Waiting) -> Laying:
    def others(piece: int, is_met: Callable[[int, int], bool]) -> int:
        return bits_of(other for other in range(len(pieces)) if is_met(piece, other))

    def takes_none(piece: int, other: int) -> bool:
        is_safe = rules.materials[other].carrier_safe or (piece, other) in rules.stacked
        return (piece, other) in rules.carried and not is_safe

    numbers = range(len(pieces))
    return Laying(
        on=tuple(others(n, lambda a, b: (a, b) in rules.stacked) for n in numbers),
        under_carrier=tuple(others(n, lambda a, b: (a, b) in rules.carried) for n in numbers),
        takes_none=tuple(others(n, takes_none) for n in numbers),
        carried=bits_of(
            n
            for n, piece in enumerate(pieces)
            if now.job.material_of(piece).carrier and not now.records[piece].down and piece not in now.peeled
        ),
    )


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
            yield _takes_none(now, piece, other)


def _takes_none(now: Pressed, piece: str, other: str) -> str:
    return f"the carrier of {_label(now, piece)} would lie on {_label(now, other)}, which takes none"


def _no_order(now: Pressed, pieces: Sequence[str]) -> str:
    return f"no order of laying frees these of each other: {in_a_row(_label(now, p) for p in pieces)}"


def _carrier(job: Job, piece: str) -> BaseGeometry | None:
    return carrier_of(job.piece(piece), job.material_of(piece))


def _overlap(carrier: BaseGeometry | None, shape: BaseGeometry) -> bool:
    return carrier is not None and bool(carrier.intersection(shape).area > OVERLAP_MM2)


def _label(now: Pressed, piece: str) -> str:
    return now.job.piece(piece).label
