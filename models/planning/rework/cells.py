"""The parts of a side's pieces as extra hits find them: what each has had, bears and wants."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from models.geometry import Box
from models.job.job import Job, Material, Piece, Side
from models.plan.plan import Hit
from models.planning.hits.coverage import counted_parts, parts_of, touched_parts
from models.planning.hits.piece_record import PieceRecord, Records
from models.planning.rework.incident import Needs, missing_s


@dataclass(frozen=True, slots=True)
class Cell:
    """One part of a piece: what it has had, what the hits ahead will add, and what it wants now.

    It wants `needs_s` counted seconds of the `missing_s` until it is down, and then a second press of
    `second_s`.
    """

    piece: Piece
    material: Material
    box: Box
    is_whole: bool  # the piece's only part
    is_new: bool  # waits to be laid
    needs_s: int
    missing_s: int
    second_s: int
    heated_s: int
    ahead_s: int

    @property
    def left_s(self) -> int:
        return self.material.total_s - self.heated_s - self.ahead_s

    @property
    def wants_s(self) -> int:
        return self.needs_s + self.second_s

    @property
    def at_once_s(self) -> int:
        """What it wants in a single hit: in that which it is laid for, or for its second press."""
        return max(self.second_s, self.material.first_s if self.is_new else 0)


def cells_of(job: Job, side: Side, records: Records, ahead: Sequence[Hit], needs: Needs) -> tuple[Cell, ...]:
    """The parts of what is laid on a side, and of what is wanted there and not laid."""
    return tuple(
        cell
        for piece in job.pieces
        if piece.side == side.name and (records[piece.id].laid or piece.id in needs)
        for cell in _cells(job, piece, records[piece.id], ahead, needs.get(piece.id))
    )


def _cells(
    job: Job, piece: Piece, record: PieceRecord, ahead: Sequence[Hit], needs_s: tuple[int, ...] | None
) -> Iterator[Cell]:
    boxes = parts_of(piece, job.presses_for(piece))
    misses_s = missing_s(record)
    wanted_s = needs_s or tuple(0 for _ in boxes)
    comes_down = all(wanted >= missing for wanted, missing in zip(wanted_s, misses_s, strict=True))
    for k, box in enumerate(boxes):
        yield Cell(
            piece=piece,
            material=job.material(piece.material),
            box=box,
            is_whole=len(boxes) == 1,
            is_new=not record.laid,
            needs_s=min(wanted_s[k], misses_s[k]),
            missing_s=misses_s[k],
            second_s=_second_s(job, piece, record, ahead, k) if wanted_s[k] and comes_down else 0,
            heated_s=record.heated_s[k],
            ahead_s=sum(hit.dwell_s for hit in ahead if touched_parts(hit, piece, job)[k]),
        )


def _second_s(job: Job, piece: Piece, record: PieceRecord, ahead: Sequence[Hit], k: int) -> int:
    """The second press that a part wants of extra hits: where it is not down, one that no hit ahead is."""
    due_s = record.finish_due_s[k]
    is_ahead = any(hit.dwell_s >= due_s and counted_parts(hit, piece, job)[k] for hit in ahead)
    return due_s if record.down or not is_ahead else 0
