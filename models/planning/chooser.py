"""Which closing comes next on a side: the one that leaves the fewest presses to do, as far as one can see."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from math import inf

from models.planning.bits import bits_of, members
from models.planning.closing import Closing, Standing, after_closing
from models.planning.heat_order import too_hot_before
from models.planning.prospects import Prospects
from models.planning.room import Room
from models.planning.side_work import SideWork
from models.planning.turns import pressed_over

Score = tuple[float, int, int]

_WORST: Score = (-inf, 0, 0)

MOST_IN_VAIN = 400
"""After as many closings that lead nowhere, a hit takes the best one so far, or is given up."""

ENOUGH_OF_ITS_SECONDS = 0.5
"""A part given a smaller share of its seconds had better be laid for a later hit."""


@dataclass(frozen=True, slots=True)
class Leaning:
    """What counts besides presses done, measured in presses.

    `waited_for`: for each hit that waits for a piece that comes down; `too_early`: against laying a piece
    over which much has still to be pressed; `worn`: against heating what bears little more.
    """

    waited_for: float
    too_early: float
    worn: float


@dataclass(frozen=True)
class Chooser:
    prospects: Prospects
    leaning: Leaning

    @property
    def work(self) -> SideWork:
        return self.prospects.work

    def best(self, now: Standing) -> Closing | None:
        """The best closing after which the rest can still be done, as far as one can see."""
        best, best_score, in_vain = None, _WORST, 0
        for most, room in self._most_first(now):
            if most < best_score[0] or in_vain > MOST_IN_VAIN:
                break
            for closing in self._closings(room):
                after = after_closing(self.work, now, closing)
                score = self._score(now, after, closing)
                if score > best_score:
                    if self.prospects.has_any(after):
                        best, best_score = closing, score
                    else:
                        in_vain += 1
        return best

    def _most_first(self, now: Standing) -> list[tuple[float, Room]]:
        """The ways that are sound now, each with a value that no closing of it exceeds."""
        rooms = (Room(self.work, now, way, self._too_hot_before) for way in self.prospects.ways)
        valued = ((self._most(room), room) for room in rooms if room.is_sound)
        return sorted(valued, key=lambda value: -value[0])

    def _most(self, room: Room) -> float:
        pieces = room.may_come_down
        parts = room.way.counted & self.work.parts_of(pieces) | room.may_be_finished
        waited_for = sum(self._followers[piece] for piece in members(pieces))
        return parts.bit_count() + self.leaning.waited_for * waited_for

    def _closings(self, room: Room) -> Iterator[Closing]:
        """The closings that bring some part nearer to its end and break no rule."""
        for dwell_s in room.dwells():
            fresh = room.fresh(dwell_s)
            at_once = bits_of(p for p in members(fresh) if self.work.materials[p].least_s <= dwell_s)
            for laid in dict.fromkeys((self._together(fresh), self._together(at_once))):
                closing = Closing(room.way, laid, dwell_s)
                if room.helps(closing):
                    yield closing

    def _together(self, fresh: int) -> int:
        """Of these pieces, some that may be in work together: those that others wait for come first."""
        apart, chosen = self.work.order.apart, 0
        lonely_first = sorted(members(fresh), key=lambda p: (apart[p] & fresh).bit_count())
        for piece in sorted(lonely_first, key=lambda p: -self._followers[p]):
            if not apart[piece] & chosen:
                chosen |= 1 << piece
        return chosen

    def _score(self, now: Standing, after: Standing, closing: Closing) -> Score:
        """Most presses done first; then the fewest parts heated again, the shortest dwell."""
        again = closing.way.touched & self.work.parts_of(now.down)
        finished = (now.finish_due & ~after.finish_due).bit_count()
        pressed = sum(self._progress(now, after, k) for k in members(closing.way.counted))
        value = (
            finished
            + pressed
            + self.leaning.waited_for * sum(self._followers[p] for p in members(after.down & ~now.down))
            - self.leaning.too_early * self._still_to_come(after, self.work.parts_of(closing.laid))
            - self.leaning.worn * sum(self._wear(now, k) for k in members(again)) * closing.dwell_s
        )
        return (value, -again.bit_count(), -closing.dwell_s)

    def _progress(self, now: Standing, after: Standing, part: int) -> float:
        """1 for a part that gets all it misses; less for a share of it, as it then wants another hit."""
        missed, misses = now.missing_s[part], after.missing_s[part]
        if missed == misses:
            return 0
        share = (missed - misses) / self.work.parts[part].material.least_s
        return 1 if not misses else 0.8 * (share - ENOUGH_OF_ITS_SECONDS)

    def _still_to_come(self, after: Standing, laid: int) -> float:
        """How much of what the laid parts bear will be taken by what cannot be pressed but over them."""
        wanting = bits_of(k for k, missing_s in enumerate(after.missing_s) if missing_s)
        return sum(
            sum(self.work.parts[k].material.least_s for k in members(self._pressed_over[part] & wanting))
            / self.work.parts[part].material.total_s
            for part in members(laid)
        )

    def _wear(self, now: Standing, part: int) -> float:
        return 1 / max(1, now.left_s[part])

    @cached_property
    def _too_hot_before(self) -> tuple[int, ...]:
        return too_hot_before(self.work, self.prospects.ways)

    @cached_property
    def _followers(self) -> list[int]:
        """For each piece, how many hits at least must come after the one that brings it down."""
        longest = [0] * len(self.work.pieces)
        for _ in self.work.pieces:
            for piece, before in enumerate(self.work.order.after):
                for first in members(before):
                    longest[first] = max(longest[first], longest[piece] + 1)
        return longest

    @cached_property
    def _pressed_over(self) -> list[int]:
        """For each part, the others that no sound hit counts for without touching it."""
        over = pressed_over(self.work, self.prospects.ways)
        return [parts & ~(1 << k) for k, parts in enumerate(over)]
