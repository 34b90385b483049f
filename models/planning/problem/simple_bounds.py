"""How many hits one side takes at the least: what must be pressed in turn, and what cannot share a hit."""

from collections.abc import Sequence

from models.planning.problem.bitset import members
from models.planning.problem.patterns import Way
from models.planning.problem.side import SideWork


def fewest_hits(work: SideWork, ways: Sequence[Way]) -> int:
    """A proved lower bound on the hits of this side."""
    return max(longest_chain(work), _apart_under_the_platen(work, ways), _apart_in_work(work, ways))


def longest_chain(work: SideWork) -> int:
    """The hits that the longest row of pieces takes of which each waits for the one before it."""
    ends = [0] * len(work.pieces)
    for _ in work.pieces:
        for piece, before in enumerate(work.order.after):
            begins = max((ends[first] for first in members(before)), default=0)
            ends[piece] = begins + _presses(work, piece)
    finishes = (end + bool(work.materials[piece].finish_s) for piece, end in enumerate(ends))
    return max(finishes, default=0)


def _apart_under_the_platen(work: SideWork, ways: Sequence[Way]) -> int:
    """Parts of which no two fit under one platen at one setting: their presses add up."""
    together = _counted_together(work, ways)
    weights = [_presses(work, p.piece) + bool(p.material.finish_s) for p in work.parts]
    return _heaviest_apart(weights, together)


def _apart_in_work(work: SideWork, ways: Sequence[Way]) -> int:
    """As before, for parts of pieces that may not be in work together either; second presses can share."""
    together = _counted_together(work, ways)
    shared = [
        bits & ~work.parts_of(work.order.apart[part.piece])
        for part, bits in zip(work.parts, together, strict=True)
    ]
    return _heaviest_apart([_presses(work, part.piece) for part in work.parts], shared)


def _presses(work: SideWork, piece: int) -> int:
    """The hits that bring the piece down, at the least."""
    material = work.materials[piece]
    return -(-material.least_s // material.longest_s)


def _counted_together(work: SideWork, ways: Sequence[Way]) -> list[int]:
    together = [0] * len(work.parts)
    for way in ways:
        for k in members(way.counted):
            together[k] |= way.counted
    return together


def _heaviest_apart(weights: Sequence[int], together: Sequence[int]) -> int:
    """The weight of some parts of which no two go together, the heavy and lonely ones chosen first."""
    order = sorted(range(len(weights)), key=lambda k: (-weights[k], together[k].bit_count()))
    chosen, weight = 0, 0
    for k in order:
        if not together[k] & chosen:
            chosen |= 1 << k
            weight += weights[k]
    return weight
