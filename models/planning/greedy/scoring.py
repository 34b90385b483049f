"""Which closing comes next on a side: the one that leaves the fewest presses to do, as far as one can see."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from heapq import heappop, heappush
from itertools import count, islice

from models.planning.greedy.dead_ends import Prospects
from models.planning.greedy.feasible_moves import Moment
from models.planning.greedy.moves_room import Room
from models.planning.problem.bitset import bits_of, members
from models.planning.problem.heat_order import too_hot_before
from models.planning.problem.side import SideWork
from models.planning.problem.state import Closing, Standing, after_closing, finished_by

Cost = tuple[float, int, int]

MOST_IN_VAIN = 400
"""After as many closings that lead nowhere no other is tried."""

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
        moment = Moment(self.work, now, self._too_hot_before)
        for closing in islice(self._best_first(moment), MOST_IN_VAIN):
            if self.prospects.has_any(after_closing(self.work, now, closing)):
                return closing
        return None

    def _best_first(self, moment: Moment) -> Iterator[Closing]:
        """The closings that are sound now; those of a way are weighed once all better ones are given."""
        weighed: list[tuple[Cost, int, Closing]] = []
        number = count()  # among equals the one weighed first comes first
        for least, room in self._least_first(moment):
            while weighed and weighed[0][0] < least:
                yield heappop(weighed)[-1]
            for closing in self._closings(room):
                heappush(weighed, (self._cost(room, closing), next(number), closing))
        while weighed:
            yield heappop(weighed)[-1]

    def _least_first(self, moment: Moment) -> list[tuple[Cost, Room]]:
        """The ways that are sound now, each with a cost below which no closing of it comes."""
        rooms = (Room(moment, way) for way in self.prospects.ways)
        valued = [(self._least(room), room) for room in rooms if room.is_sound]
        return sorted(valued, key=lambda value: value[0])

    def _least(self, room: Room) -> Cost:
        pieces = room.may_be_in_work
        pressed = room.way.counted & self.work.parts_of(pieces) & room.moment.missing
        presses = (pressed | room.may_be_finished).bit_count()
        return (-presses - self._waited_for(pieces & self.work.pieces_of(pressed)), 0, 0)

    def _closings(self, room: Room) -> Iterator[Closing]:
        """The closings that bring some part nearer to its end and break no rule."""
        for dwell_s in room.dwells():
            fresh = room.fresh(dwell_s)
            at_once = fresh & self._down_within(dwell_s)
            for laid in dict.fromkeys((self._together(fresh), self._together(at_once))):
                closing = Closing(room.way, laid, dwell_s)
                if room.helps(closing):
                    yield closing

    def _down_within(self, dwell_s: int) -> int:
        """The pieces that one hit of this dwell brings down."""
        if dwell_s not in self._known_down_within:
            enough = (p for p, m in enumerate(self.work.materials) if m.least_s <= dwell_s)
            self._known_down_within[dwell_s] = bits_of(enough)
        return self._known_down_within[dwell_s]

    def _together(self, fresh: int) -> int:
        """Of these pieces, some that may be in work together: those that others wait for come first."""
        if fresh not in self._known_together:
            self._known_together[fresh] = self._chosen_of(fresh)
        return self._known_together[fresh]

    def _chosen_of(self, fresh: int) -> int:
        apart, chosen = self.work.order.apart, 0
        for piece in sorted(
            members(fresh), key=lambda p: (-self._followers[p], (apart[p] & fresh).bit_count())
        ):
            if not apart[piece] & chosen:
                chosen |= 1 << piece
        return chosen

    def _cost(self, room: Room, closing: Closing) -> Cost:
        """Most presses done first; then the fewest parts heated again, the shortest dwell."""
        work, moment, dwell_s = self.work, room.moment, closing.dwell_s
        in_work = moment.now.in_work | closing.laid
        nearer = room.way.counted & moment.missing & work.parts_of(in_work)
        done = nearer & moment.missing_at_most(dwell_s)
        still_missing = moment.missing & ~done
        value: float = done.bit_count() + finished_by(work, moment.now, closing).bit_count()
        value += sum(self._share(dwell_s, k) for k in members(nearer & ~done))
        value += self._waited_for(in_work & ~work.pieces_of(still_missing))
        value -= self._too_early(still_missing, work.parts_of(closing.laid))
        value -= self.leaning.worn * room.worn * dwell_s
        return (-value, room.heated_again.bit_count(), dwell_s)

    def _share(self, dwell_s: int, part: int) -> float:
        """What it counts that a part gets a share of its seconds, as it then wants another hit."""
        return 0.8 * (dwell_s / self.work.parts[part].material.least_s - ENOUGH_OF_ITS_SECONDS)

    def _waited_for(self, pieces: int) -> float:
        if not self.leaning.waited_for:
            return 0.0
        return self.leaning.waited_for * sum(
            self._followers[piece] for piece in members(pieces & self._followed)
        )

    def _too_early(self, wanting: int, laid: int) -> float:
        """How much of what the laid parts bear will be taken by what cannot be pressed but over them."""
        if not self.leaning.too_early:
            return 0.0
        return self.leaning.too_early * sum(
            sum(self.work.parts[k].material.least_s for k in members(self._pressed_over[part] & wanting))
            / self.work.parts[part].material.total_s
            for part in members(laid)
            if self._pressed_over[part] & wanting
        )

    @cached_property
    def _known_down_within(self) -> dict[int, int]:
        return {}

    @cached_property
    def _known_together(self) -> dict[int, int]:
        return {}

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
    def _followed(self) -> int:
        """The pieces that others wait for."""
        return bits_of(piece for piece, hits in enumerate(self._followers) if hits)

    @cached_property
    def _pressed_over(self) -> list[int]:
        """For each part, the others that no sound hit counts for without touching it."""
        return [parts & ~(1 << k) for k, parts in enumerate(self.prospects.pressed_over)]
