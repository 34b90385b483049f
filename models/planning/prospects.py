"""Whether what is left to do on a side can still be done: a look ahead that keeps out of dead ends.

A standing without prospects leads nowhere; one with prospects may still do so.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from models.planning.bits import bits_of, members
from models.planning.candidates import Way
from models.planning.closing import Standing
from models.planning.side_work import SideWork


@dataclass(frozen=True)
class Prospects:
    work: SideWork
    ways: tuple[Way, ...]

    def has_any(self, now: Standing) -> bool:
        return not self.stuck_parts(now) and not self.locked_pieces(now)

    def stuck_parts(self, now: Standing) -> int:
        """The parts that no way ends any more: each scorches something or heats it for too long in all."""
        wants = [self._wants_s(now, k) for k in range(len(self.work.parts))]
        return bits_of(k for k, want in enumerate(wants) if want and not self._has_way(now, k, wants))

    def locked_pieces(self, now: Standing) -> int:
        """The pieces in work of which none can be ended without half pressing another one."""
        locked, freed = now.in_work, -1
        while locked and freed:
            others = self.work.whole & self.work.parts_of(locked)
            freed = bits_of(piece for piece in members(locked) if self._is_free(now, piece, others))
            locked &= ~freed
        return locked

    @cached_property
    def ways_for(self) -> tuple[tuple[Way, ...], ...]:
        """For each part, the ways that count for it."""
        return tuple(
            tuple(way for way in self.ways if way.counted >> k & 1) for k in range(len(self.work.parts))
        )

    def _wants_s(self, now: Standing, part: int) -> int:
        due_s = self.work.parts[part].material.finish_s if now.finish_due >> part & 1 else 0
        shortest_s = self.work.shortest_s
        return sum(max(s, shortest_s) for s in (now.missing_s[part], due_s) if s)

    def _has_way(self, now: Standing, part: int, wants: Sequence[int]) -> bool:
        lying = self.work.parts_of(now.laid) & ~(1 << part)
        return any(
            not way.scorched & lying
            and all(self._bears(now, k, way, wants[part], wants[k]) for k in members(way.touched & lying))
            for way in self.ways_for[part]
        )

    def _bears(self, now: Standing, part: int, way: Way, seconds: int, own_s: int) -> bool:
        """Whether the part bears so many seconds, and what it wants itself where the way does not count."""
        kept_s = 0 if way.counted >> part & 1 else own_s
        return seconds + kept_s <= now.left_s[part]

    def _is_free(self, now: Standing, piece: int, others: int) -> bool:
        missing = (k for k in members(self.work.parts_of_piece[piece]) if now.missing_s[k])
        return all(any(not way.touched & ~way.counted & others for way in self.ways_for[k]) for k in missing)
