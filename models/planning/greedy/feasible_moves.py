"""A side as it stands at one moment, and what follows from that whichever way the press comes down."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from models.planning.problem.bitset import bits_of, members
from models.planning.problem.patterns import Way
from models.planning.problem.side import SideWork
from models.planning.problem.state import Standing


@dataclass(frozen=True)
class Moment:
    """`too_hot_before` holds, for each piece, those that only a hit too hot for it can end."""

    work: SideWork
    now: Standing
    too_hot_before: Sequence[int]

    @cached_property
    def lying(self) -> int:
        return self.work.parts_of(self.now.laid)

    @cached_property
    def never_half_pressed(self) -> int:
        return self.work.whole & self.work.parts_of(self.now.in_work)

    @cached_property
    def missing(self) -> int:
        """The parts that want counted seconds."""
        return bits_of(k for k, s in enumerate(self.now.missing_s) if s)

    @cached_property
    def may_be_finished(self) -> int:
        """The parts that wait for their second press only."""
        return self.now.finish_due & self.down

    @cached_property
    def down(self) -> int:
        return self.work.parts_of(self.now.down)

    @cached_property
    def worn(self) -> list[float]:
        """For each part, how much of what it still bears a second takes."""
        return [1 / max(1, left_s) for left_s in self.now.left_s]

    @cached_property
    def layable(self) -> int:
        """The pieces that wait for no other one."""
        now, order = self.now, self.work.order
        finished = now.down & ~self.work.pieces_of(now.finish_due)
        return bits_of(
            piece
            for piece in members(self.work.every_piece & ~now.laid)
            if not order.after[piece] & ~now.down
            and not order.apart[piece] & now.in_work
            and not self.too_hot_before[piece] & ~finished
        )

    def missing_at_most(self, seconds: int) -> int:
        """The parts that want no more counted seconds than these."""
        if seconds not in self._missing_at_most:
            few = (k for k, s in enumerate(self.now.missing_s) if s <= seconds)
            self._missing_at_most[seconds] = bits_of(few)
        return self._missing_at_most[seconds]

    def bearing(self, way: Way, dwell_s: int) -> int:
        """The parts that bear the dwell at once, and in all with what they will still want after it."""
        if dwell_s not in self._bearing:
            self._bearing[dwell_s] = self._bearing_for(dwell_s)
        counted, beside = self._bearing[dwell_s]
        return counted & way.counted | beside & ~way.counted

    def worth_trying(self, part: int) -> set[int]:
        """The dwells that are enough for the part, or as long as it bears."""
        return self._worth_trying[part]

    @cached_property
    def _missing_at_most(self) -> dict[int, int]:
        return {}

    @cached_property
    def _bearing(self) -> dict[int, tuple[int, int]]:
        """For each dwell asked for, the parts that bear it where it counts and where it does not."""
        return {}

    @cached_property
    def _worth_trying(self) -> list[set[int]]:
        shortest_s = self.work.shortest_s
        wanted = (self._wanted_dwells(k) for k in range(len(self.work.parts)))
        return [{max(s, shortest_s) for s in seconds if s > 0} for seconds in wanted]

    def _wanted_dwells(self, part: int) -> tuple[int, ...]:
        """Where one hit cannot give all that a part misses: also just so many that another one can."""
        material, missing_s = self.work.parts[part].material, self.now.missing_s[part]
        if not missing_s:
            return (self._due_s(part),)
        return (missing_s, material.longest_s, missing_s - material.longest_s, material.first_s)

    def _bearing_for(self, dwell_s: int) -> tuple[int, int]:
        beside = bits_of(k for k, bears_s in enumerate(self._bears_beside_s) if dwell_s <= bears_s)
        others = members(self.work.every_part & ~beside)
        return beside | bits_of(k for k in others if self._bears_counted(k, dwell_s)), beside

    @cached_property
    def _bears_beside_s(self) -> list[int]:
        """For each part, the longest dwell that it bears where it does not count."""
        return [
            min(part.material.longest_s, left_s - self._wants_s(missing_s, self._due_s(k)))
            for k, (part, missing_s, left_s) in enumerate(
                zip(self.work.parts, self.now.missing_s, self.now.left_s, strict=True)
            )
        ]

    def _bears_counted(self, part: int, dwell_s: int) -> bool:
        missing_s, due_s = self.now.missing_s[part], self._due_s(part)
        if not missing_s and dwell_s >= due_s:
            due_s = 0
        wants_s = self._wants_s(max(0, missing_s - dwell_s), due_s)
        return (
            dwell_s <= self.work.parts[part].material.longest_s and dwell_s + wants_s <= self.now.left_s[part]
        )

    def _due_s(self, part: int) -> int:
        return self.work.parts[part].material.finish_s if self.now.finish_due >> part & 1 else 0

    def _wants_s(self, missing_s: int, due_s: int) -> int:
        """What a part gets at the least that misses so many seconds, and a second press of so many."""
        shortest_s = self.work.shortest_s
        return (missing_s and max(missing_s, shortest_s)) + (due_s and max(due_s, shortest_s))
