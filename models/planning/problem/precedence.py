"""Which piece of a side waits for which: what stacks and carriers ask of the order of laying (rules 1 to 3).

Between two pieces that meet, the rules leave one of four answers: nothing to heed, one of them first, either
one first but never both in work at once, or no way at all. A piece is in work from the hit that lays it
through the hit that brings it down. Sets of pieces are bits of an integer: bit k stands for piece k.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from shapely.geometry.base import BaseGeometry

from models.job.job import Job, Material, Piece
from models.job.outlines import to_shapely
from models.job.stacking import Pair, carrier_round, meeting, overlap, stacked_shapes
from models.planning.problem.bitset import members


@dataclass(frozen=True)
class Waiting:
    """`stacked` holds (upper, lower), `carried` (piece, other) where its carrier lies on the other."""

    materials: tuple[Material, ...]
    stacked: frozenset[Pair]
    carried: frozenset[Pair]

    @cached_property
    def after(self) -> tuple[int, ...]:
        """For each piece, those that must be down before it is laid."""
        return self._as_bits((b, a) for a, b in self._meeting if self._only_first(a, b))

    @cached_property
    def ever_before(self) -> tuple[int, ...]:
        """For each piece, those that are down before it is laid, because others wait for them in turn."""
        reached = list(self.after)
        for _ in reached:
            for piece, before in enumerate(reached):
                for first in members(before):
                    reached[piece] |= reached[first]
        return tuple(reached)

    @cached_property
    def apart(self) -> tuple[int, ...]:
        """For each piece, those that may not be in work while it is."""
        return self._as_bits(self._meeting)

    def among(self, pieces: Sequence[int]) -> "Waiting":
        """What holds between these pieces alone, numbered anew in their order."""
        number = {piece: n for n, piece in enumerate(pieces)}

        def kept(pairs: Iterable[Pair]) -> frozenset[Pair]:
            return frozenset((number[a], number[b]) for a, b in pairs if a in number and b in number)

        materials = tuple(self.materials[piece] for piece in pieces)
        return Waiting(materials, kept(self.stacked), kept(self.carried))

    def deadlocks(self) -> list[Pair]:
        """The pairs that no order of laying frees."""
        return [
            (a, b)
            for a, b in self._meeting
            if a < b and not self.may_go_first(a, b) and not self.may_go_first(b, a)
        ]

    def forbidden_stacks(self) -> list[Pair]:
        """(upper, lower) where the lower one's material does not take the upper one's."""
        return [
            (upper, lower)
            for upper, lower in sorted(self.stacked)
            if not self.materials[lower].takes(self.materials[upper])
        ]

    def circle(self) -> list[int]:
        """Pieces of which each waits for the next, and the last for the first; empty where there are none."""
        for start in range(len(self.materials)):
            path = self._path_back_to(start)
            if path:
                return path
        return []

    def may_go_first(self, first: int, second: int) -> bool:
        """Whether `second` may be laid once `first` is down."""
        if (first, second) in self.stacked:
            return False
        lies_on_it = (second, first) in self.stacked
        return lies_on_it or (second, first) not in self.carried or self.materials[first].carrier_safe

    def _path_back_to(self, start: int) -> list[int]:
        """The shortest row of waiting pieces that leads from `start` back to it."""
        paths, seen = [[start]], 0
        while paths:
            path = paths.pop(0)
            for first in members(self.after[path[-1]] & ~seen):
                if first == start:
                    return path
                seen |= 1 << first
                paths.append([*path, first])
        return []

    def _only_first(self, first: int, second: int) -> bool:
        return self.may_go_first(first, second) and not self.may_go_first(second, first)

    @cached_property
    def _meeting(self) -> list[Pair]:
        """Every two pieces that meet, both ways round."""
        met = self.stacked | self.carried
        return sorted(met | {(b, a) for a, b in met})

    def _as_bits(self, pairs: Iterable[Pair]) -> tuple[int, ...]:
        bits = [0] * len(self.materials)
        for piece, other in pairs:
            bits[piece] |= 1 << other
        return tuple(bits)


def waiting(job: Job, pieces: Sequence[Piece]) -> Waiting:
    """What stacks and carriers ask of `pieces`, all of one side, whose outlines do not cross themselves."""
    materials = tuple(job.material(piece.material) for piece in pieces)
    shapes = [to_shapely(piece.outline) for piece in pieces]
    stacked = frozenset(stacked_shapes(shapes, pieces))
    return Waiting(materials, stacked, frozenset(_carried(shapes, materials)))


def _carried(shapes: Sequence[BaseGeometry], materials: Sequence[Material]) -> Iterator[Pair]:
    carried = [k for k, material in enumerate(materials) if material.carrier]
    sheets = [carrier_round(shapes[k], materials[k]) for k in carried]
    for n, other in meeting(sheets, shapes):
        if carried[n] != other and overlap(sheets[n], shapes[other]):
            yield carried[n], other
