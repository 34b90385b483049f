"""A sound sequence for one side, quickly: each hit is the one that leaves the fewest presses to do.

The hits are sound by construction; that they are the fewest is not promised.
"""

from collections.abc import Iterator, Sequence
from itertools import product

from models.planning.greedy.dead_ends import Prospects
from models.planning.greedy.scoring import Chooser, Leaning
from models.planning.problem.patterns import Way
from models.planning.problem.side import SideWork
from models.planning.problem.state import Closing, Standing, after_closing, bare, is_done

Closings = tuple[Closing, ...]

LEANINGS = (
    Leaning(1.0, 0.3, 0.05),
    Leaning(1.0, 0.0, 0.05),
    Leaning(0.3, 0.1, 0.05),
    Leaning(0.0, 0.0, 0.05),
)
"""Each of these is tried, and the best sequence taken; what looks ahead most meets the fewest dead ends."""

FURTHER = tuple(Leaning(*weights) for weights in product((0.0, 0.3, 1.0), (0.0, 0.1, 0.3, 0.8), (0.05, 0.3)))
"""These are tried where all of the others come to a dead end, until one does not."""


CROWDED = 60
"""Parts on a side from which on the first sequence found is taken: each takes seconds."""


def first_sequence(work: SideWork, ways: Sequence[Way]) -> Closings | None:
    """The first of the few that does not come to a dead end."""
    return next(_sequences(Prospects(work, tuple(ways)), bare(work), LEANINGS), None)


def further_sequence(work: SideWork, ways: Sequence[Way]) -> Closings | None:
    """Tried where the few have come to a dead end: the first of many more that does not."""
    return next(_sequences(Prospects(work, tuple(ways)), bare(work), FURTHER), None)


def quick_sequence(work: SideWork, ways: Sequence[Way], start: Standing) -> Closings | None:
    """The shortest of the first few greedy sequences from `start` on: no proof where there is none."""
    found = _sequences(Prospects(work, tuple(ways), start.laid), start, LEANINGS)
    if len(work.parts) >= CROWDED:
        return next(found, None)
    return min(found, key=_cost, default=None)


def _sequences(prospects: Prospects, start: Standing, leanings: Sequence[Leaning]) -> Iterator[Closings]:
    for leaning in leanings:
        sequence = _sequence(Chooser(prospects, leaning), start)
        if sequence is not None:
            yield sequence


def _sequence(chooser: Chooser, now: Standing) -> Closings | None:
    work, sequence = chooser.work, list[Closing]()
    while not is_done(work, now):
        best = chooser.best(now)
        if best is None:
            return None
        sequence.append(best)
        now = after_closing(work, now, best)
    return tuple(sequence)


def _cost(sequence: Closings) -> tuple[int, int]:
    return (len(sequence), sum(closing.dwell_s for closing in sequence))
