"""Whether what is left to do on a side can still be done: a look ahead that keeps out of dead ends.

A standing without prospects leads nowhere; one with prospects may still do so.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from models.planning.greedy.dead_ends_turns import Turns, pressed_over, sound_ways, turns_over
from models.planning.problem.bitset import bits_of, members
from models.planning.problem.patterns import Way
from models.planning.problem.press_tasks import Task, tasks_of
from models.planning.problem.side import SideWork
from models.planning.problem.state import Standing


@dataclass(frozen=True)
class Prospects:
    """Of a side on which some pieces are `laid` already, where it is not bare."""

    work: SideWork
    ways: tuple[Way, ...]
    laid: int = 0

    def has_any(self, now: Standing) -> bool:
        wants_s = self._wants_s(now)
        return not (
            self._is_overheated(now, wants_s) or self._is_stuck(now, wants_s) or self._locked_pieces(now)
        )

    def _is_overheated(self, now: Standing, wants_s: Sequence[int]) -> bool:
        """Whether presses still to come heat a part in turn for more seconds than it bears."""
        return any(
            sum([wants_s[task] for task in turns]) > now.left_s[k]
            for k in members(self.work.parts_of(now.laid))
            for turns in self.turns_over[k]
        )

    def _is_stuck(self, now: Standing, wants_s: Sequence[int]) -> bool:
        """Whether no way ends some part any more: each scorches something or heats it for too long in all."""
        own_s = [0] * len(self.work.parts)
        for task, s in zip(self._tasks, wants_s, strict=True):
            own_s[task.part] += s
        return any(not self._have_ways(now, own_s, seconds) for seconds in set(own_s) if seconds)

    def _have_ways(self, now: Standing, own_s: Sequence[int], seconds: int) -> bool:
        """Whether each part that wants so many seconds can get them.

        What lies beside it must bear them, and what it wants itself where the way does not count for it.
        """
        lying = self.work.parts_of(now.laid)
        never = bits_of(k for k in members(lying) if now.left_s[k] < seconds)
        beside = bits_of(k for k in members(lying) if now.left_s[k] < seconds + own_s[k])
        wanting = (k for k, own in enumerate(own_s) if own == seconds)
        return all(self._has_way(k, lying, never, beside) for k in wanting)

    def _has_way(self, part: int, lying: int, never: int, beside: int) -> bool:
        others = ~(1 << part)
        return any(
            not (way.scorched & lying | way.touched & (never | beside & ~way.counted)) & others
            for way in self.ways_for[part]
        )

    def _locked_pieces(self, now: Standing) -> int:
        """The pieces in work of which none can be ended without half pressing another one."""
        locked, freed = now.in_work, -1
        while locked and freed:
            others = self.work.whole & self.work.parts_of(locked)
            freed = bits_of(piece for piece in members(locked) if self._is_free(now, piece, others))
            locked &= ~freed
        return locked

    @cached_property
    def ways_for(self) -> tuple[tuple[Way, ...], ...]:
        """For each part, the ways that count for it and scorch nothing that must lie there by then."""
        return tuple(tuple(self.ways[n] for n in members(able)) for able in self._sound)

    @cached_property
    def pressed_over(self) -> tuple[int, ...]:
        """For each part, those that no sound hit counts for without touching it."""
        return pressed_over(self.work, self.ways, self._sound)

    @cached_property
    def _tasks(self) -> list[Task]:
        return tasks_of(self.work)

    @cached_property
    def turns_over(self) -> tuple[tuple[Turns, ...], ...]:
        """For each part, the sets of two tasks or more that heat it in turn, its own among them."""
        return turns_over(self.work, self._sound, self.pressed_over, self.laid)

    @cached_property
    def _sound(self) -> list[int]:
        return sound_ways(self.work, self.ways)

    def _wants_s(self, now: Standing) -> list[int]:
        """What each task still takes at the least, in their order: the second presses come last."""
        shortest_s, due = self.work.shortest_s, now.finish_due
        presses_s = [s and max(s, shortest_s) for s in now.missing_s]
        return presses_s + [s if due >> k & 1 else 0 for k, s in self._second_presses_s]

    @cached_property
    def _second_presses_s(self) -> list[tuple[int, int]]:
        """The parts that want one, each with the seconds that it takes."""
        shortest_s, second = self.work.shortest_s, [task.part for task in self._tasks if task.is_second]
        return [(k, max(self.work.parts[k].material.finish_s, shortest_s)) for k in second]

    def _is_free(self, now: Standing, piece: int, others: int) -> bool:
        missing = (k for k in members(self.work.parts_of_piece[piece]) if now.missing_s[k])
        return all(any(not way.touched & ~way.counted & others for way in self.ways_for[k]) for k in missing)
