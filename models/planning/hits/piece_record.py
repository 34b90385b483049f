"""What has really happened to each piece of one garment, hit by hit, in seconds."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace

from models.job.job import Job, Piece
from models.plan.plan import Hit
from models.planning.hits.coverage import counted_parts, parts_of, touched_parts


@dataclass(frozen=True, slots=True)
class PieceRecord:
    """One piece: `heated_s`, `counted_s` and `finish_due_s` hold a number for each part.

    `heated_s` is all dwell that touched a part and never goes down; `counted_s` is the dwell that counts
    towards `needed_s` and falls when the piece has lifted; `finish_due_s` is the second press that a
    part still wants, 0 once it has had it, or where none is wanted.
    """

    laid: bool
    needed_s: int
    heated_s: tuple[int, ...]
    counted_s: tuple[int, ...]
    finish_due_s: tuple[int, ...]
    lifted: bool = False  # came up at least once after it had been down

    @property
    def down(self) -> bool:
        return self.laid and min(self.counted_s) >= self.needed_s

    @property
    def finished(self) -> bool:
        return self.down and not any(self.finish_due_s)

    @property
    def missing_s(self) -> int:
        """Counted seconds still wanted before the piece is down."""
        return max(0, self.needed_s - min(self.counted_s))


Records = Mapping[str, PieceRecord]


def untouched(job: Job) -> dict[str, PieceRecord]:
    """The records of a garment that has not been under the press yet."""
    return {piece.id: _fresh(job, piece) for piece in job.pieces}


def after_hit(records: Records, job: Job, hit: Hit, seconds: int) -> dict[str, PieceRecord]:
    """The records after `hit` was really pressed for `seconds`, which may be fewer than planned."""
    return {piece.id: _pressed(records[piece.id], job, piece, hit, seconds) for piece in job.pieces}


def after_lift(records: Records, needs_s: Mapping[str, int]) -> dict[str, PieceRecord]:
    """The records after the named pieces lifted: a part that had counted seconds misses as many again.

    A part that has had none yet is left to the hits that are to press it.
    """
    return {
        piece: _lifted(record, needs_s[piece]) if piece in needs_s else record
        for piece, record in records.items()
    }


def after_replacement(records: Records, job: Job, replaced: Collection[str]) -> dict[str, PieceRecord]:
    """The records once the named pieces are off and new ones wait to be laid, to which nothing happened."""
    return {
        piece: _fresh(job, job.piece(piece)) if piece in replaced else record
        for piece, record in records.items()
    }


def _lifted(record: PieceRecord, need_s: int) -> PieceRecord:
    most = max(0, record.needed_s - need_s)
    counted_s = tuple(min(seconds, most) for seconds in record.counted_s)
    return replace(record, counted_s=counted_s, lifted=record.lifted or record.down)


def _fresh(job: Job, piece: Piece) -> PieceRecord:
    material = job.material(piece.material)
    zeros = tuple(0 for _ in parts_of(piece, job.presses_for(piece)))
    finishes = tuple(material.finish_s for _ in zeros)
    return PieceRecord(False, material.least_s, zeros, zeros, finishes)


def _pressed(record: PieceRecord, job: Job, piece: Piece, hit: Hit, seconds: int) -> PieceRecord:
    laid = record.laid or piece.id in hit.lay
    if not laid or hit.side != piece.side:
        return record
    touched = touched_parts(hit, piece, job)
    if record.laid and not any(touched):
        return record
    counted = counted_parts(hit, piece, job)
    finishes = record.down and hit.cover
    return replace(
        record,
        laid=True,
        heated_s=_grown(record.heated_s, touched, seconds),
        counted_s=_grown(record.counted_s, counted, seconds),
        finish_due_s=_finished(record.finish_due_s, counted, seconds) if finishes else record.finish_due_s,
    )


def _grown(sums: tuple[int, ...], which: tuple[bool, ...], seconds: int) -> tuple[int, ...]:
    return tuple(total + seconds if grows else total for total, grows in zip(sums, which, strict=True))


def _finished(due_s: tuple[int, ...], counted: tuple[bool, ...], seconds: int) -> tuple[int, ...]:
    """What each part still wants of its second press, which must come in one go."""
    return tuple(0 if counts and seconds >= due else due for due, counts in zip(due_s, counted, strict=True))
