"""Which pieces only a hit too hot for another one can end: they must be finished before that one is laid."""

from collections.abc import Sequence

from models.planning.problem.bitset import members
from models.planning.problem.patterns import Way
from models.planning.problem.side import SideWork


def too_hot_before(work: SideWork, ways: Sequence[Way]) -> tuple[int, ...]:
    """For each piece, those of which some part is counted only by hits that would scorch it."""
    before = [0] * len(work.pieces)
    for k, part in enumerate(work.parts):
        for scorched in members(_always_scorched(work, ways, k)):
            before[work.parts[scorched].piece] |= 1 << part.piece
    return tuple(before)


def _always_scorched(work: SideWork, ways: Sequence[Way], part: int) -> int:
    """The parts that every way of counting `part` scorches."""
    scorched = work.every_part
    for way in ways:
        if way.counted >> part & 1:
            scorched &= way.scorched
    return scorched
