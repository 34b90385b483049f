"""What one way of hitting a side allows as the side stands: which dwells, which pieces laid for it."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from models.planning.bits import bits_of, members
from models.planning.candidates import Way
from models.planning.closing import Closing, Standing, finished_by
from models.planning.side_work import SideWork


@dataclass(frozen=True)
class Room:
    """`too_hot_before` holds, for each piece, those that only a hit too hot for it can end."""

    work: SideWork
    now: Standing
    way: Way
    too_hot_before: Sequence[int]

    @cached_property
    def is_sound(self) -> bool:
        """Whether it scorches nothing that lies there and leaves no whole piece half pressed."""
        lying, in_work = (self.work.parts_of(pieces) for pieces in (self.now.laid, self.now.in_work))
        half_pressed = self.way.touched & ~self.way.counted & self.work.whole & in_work
        return not half_pressed and not self.way.scorched & lying

    def dwells(self) -> list[int]:
        """The dwells worth trying: enough for a part, or as long as one bears; the shortest first."""
        shortest_s = self.work.shortest_s
        touched = self.way.touched & self.work.parts_of(self.now.laid)
        tried = {max(s, shortest_s) for k in members(self.way.counted) for s in self._worth_trying(k)}
        tried |= {self.work.parts[k].material.longest_s for k in members(touched)}
        return sorted(s for s in tried if s >= shortest_s and self._all_bear(touched, s))

    def fresh(self, dwell_s: int) -> int:
        """The pieces that may be laid for a closing of this dwell; some of them perhaps not together."""
        return bits_of(
            piece
            for piece in members(self._layable)
            if self._all_bear(self.work.parts_of_piece[piece] & self.way.touched, dwell_s)
        )

    def helps(self, closing: Closing) -> bool:
        """Whether any part comes nearer to its end."""
        counted = self.way.counted & self.work.parts_of(self.now.in_work | closing.laid)
        nearer = any(self.now.missing_s[k] for k in members(counted))
        return nearer or bool(finished_by(self.work, self.now, closing))

    @cached_property
    def _layable(self) -> int:
        """The pieces that may be laid for some dwell."""
        unlaid = members(self.work.every_piece & ~self.now.laid)
        return bits_of(piece for piece in unlaid if self._may_be_laid(piece))

    @property
    def may_come_down(self) -> int:
        """The pieces that this way counts for, in work or to be laid."""
        counted = self.way.counted
        in_work = bits_of(p for p in members(self.now.in_work) if self.work.parts_of_piece[p] & counted)
        return in_work | self._layable

    @property
    def may_be_finished(self) -> int:
        """The parts that it could give their second press."""
        return self.now.finish_due & self.way.counted & self.work.parts_of(self.now.down)

    def _may_be_laid(self, piece: int) -> bool:
        order, parts = self.work.order, self.work.parts_of_piece[piece]
        waits = order.after[piece] & ~self.now.down or order.apart[piece] & self.now.in_work
        scorches = parts & self.way.scorched or self.too_hot_before[piece] & ~self._finished
        return bool(parts & self.way.counted) and not waits and not scorches

    def _worth_trying(self, part: int) -> tuple[int, ...]:
        material = self.work.parts[part].material
        return (self.now.missing_s[part], material.finish_s, material.longest_s)

    def _all_bear(self, parts: int, dwell_s: int) -> bool:
        return all(self._bears(k, dwell_s) for k in members(parts))

    def _bears(self, part: int, dwell_s: int) -> bool:
        """Whether the part bears the dwell at once, and in all with what it will still want after it."""
        material = self.work.parts[part].material
        in_all_s = dwell_s + self._wants_after_s(part, dwell_s)
        return dwell_s <= material.longest_s and in_all_s <= self.now.left_s[part]

    def _wants_after_s(self, part: int, dwell_s: int) -> int:
        shortest_s = self.work.shortest_s
        counts = bool(self.way.counted >> part & 1)
        missing = self.now.missing_s[part]
        left_s = max(0, missing - dwell_s) if counts else missing
        finishes = counts and not missing and dwell_s >= self.work.parts[part].material.finish_s
        due_s = 0 if finishes else self._finish_due_s(part)
        return sum(max(s, shortest_s) for s in (left_s, due_s) if s)

    def _finish_due_s(self, part: int) -> int:
        return self.work.parts[part].material.finish_s if self.now.finish_due >> part & 1 else 0

    @cached_property
    def _finished(self) -> int:
        due = self.now.finish_due
        return bits_of(p for p in members(self.now.down) if not self.work.parts_of_piece[p] & due)
