"""What one closing does to a garment, as a hit lists it: what it counts for, heats again and brings down."""

from collections.abc import Collection
from dataclasses import replace

from models.job.job import Job, Piece, ZoneKind
from models.plan.plan import PEEL_ORDER, Hit, PeelStep
from models.planning.hits.coverage import counted_parts, touched_parts
from models.planning.hits.piece_record import PieceRecord, Records, after_hit


def with_effects(hit: Hit, job: Job, records: Records, peeled: Collection[str]) -> Hit:
    """`hit` with its lists, cover and pad filled in for a garment to which `records` has happened.

    `peeled` names the pieces whose carrier is off already.
    """
    touched = touched_pieces(hit, job, records)
    finishing = [piece.id for piece in touched if finishes(hit, piece, job, records[piece.id])]
    pressing = [piece.id for piece in touched if gains(hit, piece, job, records[piece.id])]
    bare = to_cover(hit, job, records) or to_guard(hit, job, records)
    covered = replace(hit, cover=bool(finishing or bare))
    return replace(
        covered,
        count=tuple(piece.id for piece in touched if piece.id in (*pressing, *finishing)),
        touch_again=tuple(piece.id for piece in touched if records[piece.id].finished),
        pad=bool(raised_under(hit, job)),
        peel=_peel_steps(covered, job, records, {*pressing} - {*peeled}),
    )


def touched_pieces(hit: Hit, job: Job, records: Records) -> list[Piece]:
    """The pieces under the platen, those laid for the hit included."""
    return [piece for piece in job.pieces if is_touched(hit, piece, job, records[piece.id])]


def is_touched(hit: Hit, piece: Piece, job: Job, record: PieceRecord) -> bool:
    """Whether the piece is there and a part of it lies under the platen."""
    is_there = piece.side == hit.side and (record.laid or piece.id in hit.lay)
    return is_there and any(touched_parts(hit, piece, job))


def gains(hit: Hit, piece: Piece, job: Job, record: PieceRecord) -> bool:
    """Whether the piece comes nearer to being down."""
    counted = counted_parts(hit, piece, job)
    return any(
        is_counted and s < record.needed_s for is_counted, s in zip(counted, record.counted_s, strict=True)
    )


def finishes(hit: Hit, piece: Piece, job: Job, record: PieceRecord) -> bool:
    """Whether the hit, under a cover sheet, is the second press of the piece or of one of its parts."""
    counted = counted_parts(hit, piece, job)
    due = [s for is_counted, s in zip(counted, record.finish_due_s, strict=True) if is_counted and s > 0]
    return record.down and any(hit.dwell_s >= s for s in due)


def under_cover(hit: Hit, job: Job, records: Records) -> list[Piece]:
    """The pieces for which the hit goes under a cover sheet: second presses, and what must not be bare."""
    touched = touched_pieces(hit, job, records)
    wanting = [piece for piece in touched if finishes(hit, piece, job, records[piece.id])]
    wanting += [*to_cover(hit, job, records), *to_guard(hit, job, records)]
    return [piece for piece in touched if piece in wanting]


def to_cover(hit: Hit, job: Job, records: Records) -> list[Piece]:
    """The pieces that want a cover sheet until they are down, whether the hit counts for them or not."""
    return [
        piece
        for piece in job.pieces
        if job.material(piece.material).cover and not records[piece.id].down
        if is_touched(hit, piece, job, records[piece.id])
    ]


def to_guard(hit: Hit, job: Job, records: Records) -> list[Piece]:
    """The pieces that must not be heated again without a cover sheet; one that has lifted was down before."""
    return [
        piece
        for piece in job.pieces
        if job.material(piece.material).guard and (records[piece.id].down or records[piece.id].lifted)
        if is_touched(hit, piece, job, records[piece.id])
    ]


def raised_under(hit: Hit, job: Job) -> list[str]:
    """The seams and pockets under the platen, by name."""
    zones = job.side(hit.side).zones_of(ZoneKind.RAISED)
    return [zone.label or "raised place" for zone in zones if hit.platen.shares_area_with(zone.box)]


def _peel_steps(hit: Hit, job: Job, records: Records, pressed: Collection[str]) -> tuple[PeelStep, ...]:
    """For those that come down of the `pressed` pieces, which come nearer to it."""
    carried = [piece for piece in job.pieces if piece.id in pressed and job.material(piece.material).carrier]
    after = after_hit(records, replace(job, pieces=tuple(carried)), hit, hit.dwell_s)
    steps = [
        PeelStep(piece.id, job.material(piece.material).peel) for piece in carried if after[piece.id].down
    ]
    return tuple(sorted(steps, key=lambda step: PEEL_ORDER.index(step.when)))
