"""In which sets, and in which order, pieces are laid anew and pressed: every way that laying allows."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from models.job.job import Job
from models.planning.bits import members
from models.planning.waiting import waiting

Pair = tuple[str, str]
Place = Mapping[str, int]
"""The number of the group that a piece is in."""


@dataclass(frozen=True, slots=True)
class Laying:
    """Pairs of new pieces: `apart`, never in work together; `barred`, the first never before the second."""

    apart: frozenset[Pair]
    barred: frozenset[Pair]

    def allows(self, piece: str, place: Place) -> bool:
        """Whether `piece` is in a group that suits the others that have one."""
        return not any(self._clash(piece, other, place) for other in place if other != piece)

    def _clash(self, piece: str, other: str, place: Place) -> bool:
        if place[piece] == place[other]:
            return (piece, other) in self.apart
        return ((piece, other) if place[piece] < place[other] else (other, piece)) in self.barred


def groupings(
    job: Job, pieces: Sequence[str], replaced: Collection[str]
) -> Iterator[tuple[tuple[str, ...], ...]]:
    """The pieces, all of one side, in groups one after the other; those with the fewest groups come first.

    No two pieces that may not be in work together are laid in one group, nor any in an order that is barred.
    """
    laying = _laying_of(job, [piece for piece in pieces if piece in replaced])
    for count in range(1, len(pieces) + 1):
        for place in _places({}, pieces, count, laying):
            yield tuple(tuple(p for p in pieces if place[p] == n) for n in range(count))


def _places(place: Place, left: Sequence[str], count: int, laying: Laying) -> Iterator[Place]:
    """Every way to go on from `place` that leaves none of the groups empty."""
    if not left:
        yield place
        return
    piece, *others = left
    for group in range(count):
        told = {**place, piece: group}
        can_fill = len(set(told.values())) + len(others) >= count
        if can_fill and laying.allows(piece, told):
            yield from _places(told, others, count, laying)


def _laying_of(job: Job, pieces: Sequence[str]) -> Laying:
    rules = waiting(job, [job.piece(piece) for piece in pieces])
    meeting = [(a, b) for a, others in enumerate(rules.apart) for b in members(others)]
    barred = [(a, b) for a, b in meeting if not rules.may_go_first(a, b)]
    return Laying(*(frozenset((pieces[a], pieces[b]) for a, b in pairs) for pairs in (meeting, barred)))
