"""What one way of hitting a side allows as the side stands: which dwells, which pieces laid for it."""

from dataclasses import dataclass
from functools import cached_property

from models.planning.greedy.feasible_moves import Moment
from models.planning.problem.bitset import members
from models.planning.problem.patterns import Way
from models.planning.problem.state import Closing, finished_by


@dataclass(frozen=True)
class Room:
    moment: Moment
    way: Way

    @property
    def is_sound(self) -> bool:
        """Whether it scorches nothing that lies there and leaves no whole piece half pressed."""
        moment, way = self.moment, self.way
        return not (way.touched & ~way.counted & moment.never_half_pressed or way.scorched & moment.lying)

    def dwells(self) -> list[int]:
        """The dwells worth trying: enough for a part, or as long as one bears; the shortest first."""
        moment, way = self.moment, self.way
        touched = way.touched & moment.lying
        counted = way.counted & (moment.lying | moment.work.parts_of(self._layable))
        tried = {moment.work.parts[k].material.longest_s for k in members(touched)}
        tried.update(*(moment.worth_trying(k) for k in members(counted)))
        shortest_s = moment.work.shortest_s
        return sorted(s for s in tried if s >= shortest_s and not touched & ~moment.bearing(way, s))

    def fresh(self, dwell_s: int) -> int:
        """The pieces that may be laid for a closing of this dwell; some of them perhaps not together."""
        work, too_long = self.moment.work, self.way.touched & ~self.moment.bearing(self.way, dwell_s)
        return self._layable & ~work.pieces_of(too_long) & work.holding_after(dwell_s)

    def helps(self, closing: Closing) -> bool:
        """Whether any part comes nearer to its end."""
        moment, now = self.moment, self.moment.now
        in_work = moment.work.parts_of(now.in_work | closing.laid)
        nearer = self.way.counted & in_work & moment.missing
        return bool(nearer or finished_by(moment.work, now, closing))

    @property
    def may_be_in_work(self) -> int:
        """The pieces in work, and those that may be laid for some dwell."""
        return self.moment.now.in_work | self._layable

    @property
    def may_be_finished(self) -> int:
        """The parts that it could give their second press."""
        return self.moment.may_be_finished & self.way.counted

    @property
    def heated_again(self) -> int:
        return self.way.touched & self.moment.down

    @cached_property
    def worn(self) -> float:
        """How much a second takes of what those heated again still bear, summed."""
        return sum(self.moment.worn[k] for k in members(self.heated_again))

    @cached_property
    def _layable(self) -> int:
        """The pieces that may be laid for some dwell."""
        pieces_of = self.moment.work.pieces_of
        return self.moment.layable & pieces_of(self.way.counted) & ~pieces_of(self.way.scorched)
