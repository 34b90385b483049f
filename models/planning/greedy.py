"""A sound sequence for one side, quickly: each hit is the one that leaves the fewest presses to do.

The hits are sound by construction; that they are the fewest is not promised.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from models.planning.bits import members
from models.planning.candidates import Way
from models.planning.closing import Closing, Standing, after_closing, bare, is_done
from models.planning.heat_order import too_hot_before
from models.planning.room import Room
from models.planning.side_work import SideWork

Closings = tuple[Closing, ...]

FOLLOWERS_WEIGHTS = (0.0, 0.3, 1.0, 3.0)
"""How much sooner a piece comes down for each hit that waits for it; each is tried."""


def greedy_sequence(work: SideWork, ways: Sequence[Way]) -> Closings | None:
    """The shortest of a few greedy sequences; None where each of them comes to a dead end."""
    tried = (_sequence(_Chooser(work, tuple(ways), weight)) for weight in FOLLOWERS_WEIGHTS)
    return min((sequence for sequence in tried if sequence is not None), key=_cost, default=None)


def _cost(sequence: Closings) -> tuple[int, int]:
    return (len(sequence), sum(closing.dwell_s for closing in sequence))


def _sequence(chooser: "_Chooser") -> Closings | None:
    now, sequence = bare(chooser.work), []
    while not is_done(chooser.work, now):
        best = max(chooser.closings(now), key=lambda c: chooser.score(now, c), default=None)
        if best is None:
            return None
        sequence.append(best)
        now = after_closing(chooser.work, now, best)
    return tuple(sequence)


@dataclass(frozen=True)
class _Chooser:
    work: SideWork
    ways: tuple[Way, ...]
    followers_weight: float

    def closings(self, now: Standing) -> Iterator[Closing]:
        """The closings that bring some part nearer to its end and break no rule."""
        for way in self.ways:
            room = Room(self.work, now, way, self._too_hot_before)
            for dwell_s in room.dwells() if room.is_sound else ():
                closing = Closing(way, self._together(room.fresh(dwell_s)), dwell_s)
                if room.helps(closing):
                    yield closing

    def score(self, now: Standing, closing: Closing) -> tuple[float, int, int]:
        """Most presses done first; then the fewest parts heated again, the shortest dwell."""
        after = after_closing(self.work, now, closing)
        fallen = after.down & ~now.down
        done = (now.finish_due & ~after.finish_due).bit_count()
        pressed = sum(self._progress(now, after, k) for k in members(closing.way.counted))
        waited_for = sum(self._followers[piece] for piece in members(fallen))
        again = (closing.way.touched & self.work.parts_of(now.down)).bit_count()
        return (done + pressed + self.followers_weight * waited_for, -again, -closing.dwell_s)

    @cached_property
    def _too_hot_before(self) -> tuple[int, ...]:
        return too_hot_before(self.work, self.ways)

    @cached_property
    def _followers(self) -> list[int]:
        """For each piece, how many hits at least must come after the one that brings it down."""
        longest = [0] * len(self.work.pieces)
        for _ in self.work.pieces:
            for piece, before in enumerate(self.work.order.after):
                for first in members(before):
                    longest[first] = max(longest[first], longest[piece] + 1)
        return longest

    def _together(self, fresh: int) -> int:
        """Of these pieces, some that may be in work together: those that others wait for come first."""
        apart, chosen = self.work.order.apart, 0
        lonely_first = sorted(members(fresh), key=lambda p: (apart[p] & fresh).bit_count())
        for piece in sorted(lonely_first, key=lambda p: -self._followers[p]):
            if not apart[piece] & chosen:
                chosen |= 1 << piece
        return chosen

    def _progress(self, now: Standing, after: Standing, part: int) -> float:
        """1 for a part that gets all its seconds; less than half for some of them: it wants another hit."""
        least_s = self.work.parts[part].material.least_s
        had_s, has_s = min(now.counted_s[part], least_s), min(after.counted_s[part], least_s)
        if had_s == has_s:
            return 0
        return 1 if has_s == least_s else 0.5 * (has_s - had_s) / least_s
