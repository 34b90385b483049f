"""Why a side takes so many hits, in words: the pieces that force them, and what keeps these apart."""

from collections.abc import Iterator, Sequence
from itertools import combinations

from models.planning.problem.patterns import Way, ways_to_hit
from models.planning.problem.side import SideWork, side_of
from models.planning.search.incumbent import SideResult
from models.text import in_a_row

MOST_TOLD = 4
"""More reasons than these are not read."""


def why_so_many(result: SideResult) -> str:
    """One or two sentences: the pieces that force the side's hits, and why they do."""
    work = result.work
    hits = "1 hit" if result.bound == 1 else f"{result.bound} hits"
    if not result.forcing:
        return f"{work.side.name}: {hits} at the least, counted over all its pieces."
    forced = side_of(work, result.forcing)
    who = in_a_row(piece.label for piece in forced.pieces)
    take = "by itself takes" if len(forced.pieces) == 1 else "by themselves take"
    reasons = [*_alone(forced), *_apart(forced, ways_to_hit(forced))][:MOST_TOLD]
    told = f" {'; '.join(reasons)}." if reasons else ""
    return f"{work.side.name}: {who} {take} {hits}.{told}"


def _alone(work: SideWork) -> Iterator[str]:
    """What makes one piece take more than a hit."""
    for piece, material, bits in zip(work.pieces, work.materials, work.parts_of_piece, strict=True):
        parts = bits.bit_count()
        if parts > 1:
            yield f"{piece.label} is larger than the platen and pressed in {parts} parts"
        if material.least_s > material.longest_s:
            yield f"{piece.label} wants {material.least_s} s and bears {material.longest_s} s at once"
        if material.finish_s:
            yield f"{piece.label} wants a second press after its peel"


def _apart(work: SideWork, ways: Sequence[Way]) -> Iterator[str]:
    for a, b in combinations(range(len(work.pieces)), 2):
        told = _why_apart(work, ways, a, b)
        if told:
            yield told


def _why_apart(work: SideWork, ways: Sequence[Way], a: int, b: int) -> str:
    """Why two pieces never share a hit while they are in work; empty where they may."""
    first, second = work.pieces[a].label, work.pieces[b].label
    if work.order.after[b] >> a & 1:
        return f"{second} waits until {first} is down"
    if work.order.after[a] >> b & 1:
        return f"{first} waits until {second} is down"
    if work.order.apart[a] >> b & 1:
        return f"{first} and {second} are laid one after the other, for their carriers meet"
    both = work.parts_of(1 << a), work.parts_of(1 << b)
    if any(way.counted & both[0] and way.counted & both[1] for way in ways):
        return ""
    if work.can_be_held_together(*both):
        return f"{first} and {second} take no setting in common"
    return f"{first} and {second} do not fit under the platen together"
