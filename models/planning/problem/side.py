"""The work on one side of a garment: its pieces part by part, what each part wants, how it can be hit.

Sets of pieces, and sets of parts, are bits of an integer.
"""

from collections.abc import Callable, Collection
from dataclasses import dataclass, replace
from functools import cached_property

from models.geometry import Box
from models.job.job import Job, Material, Piece, Side, ZoneKind
from models.planning.hits.coverage import parts_of
from models.planning.problem.bitset import bits_of, members
from models.planning.problem.platen_positions import Grid, Spot, grids
from models.planning.problem.precedence import Waiting, waiting


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a piece; `piece` is the piece's number on its side."""

    piece: int
    box: Box
    material: Material
    is_whole: bool  # the piece's only part


@dataclass(frozen=True)
class SideWork:
    job: Job
    side: Side
    pieces: tuple[Piece, ...]
    materials: tuple[Material, ...]
    parts: tuple[Part, ...]
    order: Waiting

    @cached_property
    def parts_of_piece(self) -> tuple[int, ...]:
        bits = [0] * len(self.pieces)
        for k, part in enumerate(self.parts):
            bits[part.piece] |= 1 << k
        return tuple(bits)

    def parts_of(self, pieces: int) -> int:
        if self._is_whole:  # mostly so, and much asked for: part k is piece k
            return pieces
        known = self._parts_asked_for
        if pieces not in known:
            known[pieces] = sum(self.parts_of_piece[piece] for piece in members(pieces))
        return known[pieces]

    def pieces_of(self, parts: int) -> int:
        """The pieces of which some part is among `parts`."""
        if self._is_whole:
            return parts
        known = self._pieces_asked_for
        if parts not in known:
            known[parts] = bits_of(self.parts[k].piece for k in members(parts))
        return known[parts]

    @cached_property
    def _is_whole(self) -> bool:
        """Whether no piece is worked in several parts."""
        return len(self.parts) == len(self.pieces)

    @cached_property
    def _parts_asked_for(self) -> dict[int, int]:
        return {}

    @cached_property
    def _pieces_asked_for(self) -> dict[int, int]:
        return {}

    @cached_property
    def whole(self) -> int:
        return self.parts_where(lambda part: part.is_whole)

    @cached_property
    def better_late(self) -> int:
        """The parts that a hit may better not count for: what is not finished yet is not heated again.

        A whole piece without a second press leaves no choice.
        """
        return self.parts_where(lambda part: not part.is_whole or part.material.finish_s > 0)

    @cached_property
    def grids(self) -> tuple[Grid, ...]:
        """For each press, every different way to put its platen down."""
        metal = [zone.box for zone in self.side.zones_of(ZoneKind.KEEP_OUT)]
        return grids([part.box for part in self.parts], metal, self.job.presses)

    @cached_property
    def spots(self) -> tuple[Spot, ...]:
        """The places of a platen, clear of the keep-outs, that may be worth it: no other does as much."""
        return tuple(spot for grid in self.grids for spot in grid.unbettered().spots())

    def can_be_held_together(self, parts: int, others: int) -> bool:
        """Whether a platen can hold one of these and one of those parts at once."""
        return any(held & parts and held & others for held in self._held)

    @cached_property
    def _held(self) -> frozenset[int]:
        """What a platen can hold at once, in every way that may be worth it."""
        return frozenset(spot.held for spot in self.spots)

    @cached_property
    def shortest_s(self) -> int:
        return self.job.shortest_s

    @property
    def every_part(self) -> int:
        return (1 << len(self.parts)) - 1

    @property
    def every_piece(self) -> int:
        return (1 << len(self.pieces)) - 1

    def holding_after(self, dwell_s: int) -> int:
        """The pieces that hold after so long a hit that they were laid for."""
        return self.every_piece & ~bits_of(p for p, first_s in self._first_s if dwell_s < first_s)

    @cached_property
    def _first_s(self) -> list[tuple[int, int]]:
        """The pieces that do not hold after any hit, each with the seconds that they want for it."""
        return [(p, material.first_s) for p, material in enumerate(self.materials) if material.first_s]

    def parts_where(self, belongs: Callable[[Part], bool]) -> int:
        return sum(1 << k for k, part in enumerate(self.parts) if belongs(part))


def side_work(job: Job, side: Side) -> SideWork:
    pieces = tuple(piece for piece in job.pieces if piece.side == side.name)
    materials = tuple(job.material(piece.material) for piece in pieces)
    parts = tuple(
        Part(k, box, materials[k], len(boxes) == 1)
        for k, piece in enumerate(pieces)
        for boxes in (parts_of(piece, job.presses_for(piece)),)
        for box in boxes
    )
    return SideWork(job, side, pieces, materials, parts, waiting(job, pieces))


def side_of(work: SideWork, pieces: Collection[int]) -> SideWork:
    """The side with these of its pieces alone; what holds between them is known."""
    kept = sorted(pieces)
    number = {piece: n for n, piece in enumerate(kept)}
    parts = (replace(part, piece=number[part.piece]) for part in work.parts if part.piece in number)
    return SideWork(
        only(work, kept),
        work.side,
        tuple(work.pieces[piece] for piece in kept),
        tuple(work.materials[piece] for piece in kept),
        tuple(parts),
        work.order.among(kept),
    )


def only(work: SideWork, pieces: Collection[int]) -> Job:
    """The job with these of the side's pieces alone."""
    return replace(work.job, pieces=tuple(work.pieces[piece] for piece in sorted(pieces)))
