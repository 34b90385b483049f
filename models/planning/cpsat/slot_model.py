"""The rules for one side as a constraint model: so many slots in a row, a hit in each.

Each slot chooses one way of hitting and a dwell; each piece, the slot that lays it and the one by which it is
down; each part, the slot of its second press. A piece may be called down later than it is: that asks more of
the sequence, never less.
"""

from collections.abc import Sequence
from itertools import compress, pairwise
from operator import not_

from ortools.sat.python import cp_model

from models.job.job import Material
from models.planning.problem.bitset import bits_of, members
from models.planning.problem.patterns import Way
from models.planning.problem.side import Part, SideWork
from models.planning.problem.state import Closing

Flag = cp_model.IntVar
Row = list[Flag]  # a variable for each slot

Phases = Sequence[Sequence[Way]]
"""The ways to choose from, phase by phase; a side goes through the phases in this order."""


class SlotModel:
    """`laid` and `down` are rows for each piece, the others for each part of the side."""

    def __init__(self, work: SideWork, phases: Phases, slots: int) -> None:
        self.work, self.slots = work, range(slots)
        self.model = cp_model.CpModel()
        self.ways = [way for phase in phases for way in phase]
        self.dwell_s = [self._dwell() for _ in self.slots]
        self.chosen = [[self.flag() for _ in self.ways] for _ in self.slots]
        self.laid = [self._from_some_slot_on() for _ in work.pieces]
        self.down = [self._from_some_slot_on() for _ in work.pieces]
        self.heated = [self._row() for _ in work.parts]
        self.counted = [self._row() for _ in work.parts]
        self.second_press = {k: self._row() for k, part in enumerate(work.parts) if part.material.finish_s}
        for choices in self.chosen:
            self.model.add_exactly_one(choices)
        self._in_phases(phases)
        self._laid_in_order()
        for p, material in enumerate(work.materials):
            self._held_from_the_first(p, material)
        for k, part in enumerate(work.parts):
            self._under_the_platen(k, part)
            self._long_enough(k, part)
            self._not_too_long(k, part)
            self._second_press(k, part)

    def flag(self) -> Flag:
        return self.model.new_bool_var("")

    def closings(self, solver: cp_model.CpSolver) -> tuple[Closing, ...]:
        """The hits of a solution that the solver has found."""
        return tuple(
            Closing(
                self.ways[next(w for w, flag in enumerate(self.chosen[n]) if solver.boolean_value(flag))],
                bits_of(p for p, row in enumerate(self.laid) if _turns(solver, row, n)),
                solver.value(self.dwell_s[n]),
            )
            for n in self.slots
        )

    def hint(self, closings: Sequence[Closing]) -> None:
        """Tell the solver of a sequence that will do, for it to begin with."""
        for n, closing in enumerate(closings):
            self.model.add_hint(self.dwell_s[n], closing.dwell_s)
            for w, way in enumerate(self.ways):
                self.model.add_hint(self.chosen[n][w], way == closing.way)
            for p, row in enumerate(self.laid):
                self.model.add_hint(row[n], any(c.laid >> p & 1 for c in closings[: n + 1]))

    def seconds_where(self, flags: Row, most_s: int) -> list[Flag]:
        """For each slot, at least its dwell where its flag is set."""
        seconds = [self.model.new_int_var(0, most_s, "") for _ in self.slots]
        for s, dwell_s, flag in zip(seconds, self.dwell_s, flags, strict=True):
            self.model.add(s >= dwell_s).only_enforce_if(flag)
        return seconds

    # ---- variables

    def _row(self) -> Row:
        return [self.flag() for _ in self.slots]

    def _from_some_slot_on(self) -> Row:
        row = self._row()
        for before, after in pairwise(row):
            self.model.add_implication(before, after)
        self.model.add_bool_and(row[-1:])
        return row

    def _dwell(self) -> Flag:
        longest_s = max(part.material.longest_s for part in self.work.parts)
        return self.model.new_int_var(self.work.shortest_s, longest_s, "")

    # ---- rules

    def _in_phases(self, phases: Phases) -> None:
        """A side never goes back to an earlier phase."""
        begun = 0
        for phase in phases[:-1]:
            begun += len(phase)
            for now, after in pairwise(self.chosen):
                for later in now[begun:]:
                    self.model.add_bool_and(~flag for flag in after[:begun]).only_enforce_if(later)

    def _laid_in_order(self) -> None:
        """Base first, clear carriers; laid before down."""
        order, model = self.work.order, self.model
        for p, (laid, down) in enumerate(zip(self.laid, self.down, strict=True)):
            for is_laid, is_down in zip(laid, down, strict=True):
                model.add_implication(is_down, is_laid)
            for first in members(order.after[p]):
                self._one_first(self.down[first], laid)
            either = order.apart[p] & ~order.after[p]
            for other in members(either & ((1 << p) - 1)):
                if not order.after[other] >> p & 1:
                    other_first = self.flag()
                    self._one_first(self.down[other], laid, unless=~other_first)
                    self._one_first(down, self.laid[other], unless=other_first)

    def _one_first(self, down: Row, laid: Row, unless: cp_model.LiteralT = False) -> None:
        """A piece is laid after the slot by which another one is down."""
        self.model.add_bool_or(~laid[0], unless)
        for is_down, is_laid in zip(down, laid[1:], strict=False):
            self.model.add_bool_or(~is_laid, is_down, unless)

    def _under_the_platen(self, k: int, part: Part) -> None:
        """What a way does to a part that is laid. A whole piece is never half pressed."""
        laid, down, bit = self.laid[part.piece], self.down[part.piece], 1 << k
        for n in self.slots:
            heated, counted = self.heated[k][n], self.counted[k][n]
            self.model.add_implication(heated, laid[n])
            self.model.add_implication(counted, heated)
            self._does(n, [bool(way.touched & bit) for way in self.ways], heated, laid[n])
            self._does(n, [bool(way.counted & bit) for way in self.ways], counted, laid[n])
            for flag in compress(self.chosen[n], [way.scorched & bit for way in self.ways]):
                self.model.add_bool_or(~flag, ~laid[n])
            if part.is_whole:
                self.model.add_bool_or(~heated, counted, *down[n - 1 : n])
        if self.work.parts_of_piece[part.piece] & -self.work.parts_of_piece[part.piece] == bit:
            self._touched_when_laid(part.piece)

    def _does(self, slot: int, by: Sequence[bool], effect: Flag, laid: Flag) -> None:
        """For all ways at once, as a slot chooses one: the effect comes with one of these or not at all."""
        chosen = self.chosen[slot]
        self.model.add_bool_or(~effect, *compress(chosen, by))
        self.model.add_bool_or(effect, ~laid, *compress(chosen, map(not_, by)))

    def _touched_when_laid(self, piece: int) -> None:
        parts = list(members(self.work.parts_of_piece[piece]))
        for n, is_laid in enumerate(self.laid[piece]):
            was_laid = self.laid[piece][n - 1 : n]
            self.model.add_bool_or(~is_laid, *was_laid, *(self.heated[k][n] for k in parts))

    def _long_enough(self, k: int, part: Part) -> None:
        """Counted seconds reach `least` before the piece is called down."""
        seconds = [self.model.new_int_var(0, part.material.longest_s, "") for _ in self.slots]
        for s, dwell_s, counted in zip(seconds, self.dwell_s, self.counted[k], strict=True):
            self.model.add(s <= dwell_s)
            self.model.add(s == 0).only_enforce_if(~counted)
        for n, is_down in enumerate(self.down[part.piece]):
            self.model.add(sum(seconds[: n + 1]) >= part.material.least_s).only_enforce_if(is_down)

    def _held_from_the_first(self, piece: int, material: Material) -> None:
        """The slot that lays the piece is long enough for it to hold."""
        if material.first_s <= self.work.shortest_s:
            return
        for n, (dwell_s, is_laid) in enumerate(zip(self.dwell_s, self.laid[piece], strict=True)):
            now = [is_laid, *(~was_laid for was_laid in self.laid[piece][n - 1 : n])] if n else [is_laid]
            self.model.add(dwell_s >= material.first_s).only_enforce_if(now)

    def _not_too_long(self, k: int, part: Part) -> None:
        for dwell_s, heated in zip(self.dwell_s, self.heated[k], strict=True):
            self.model.add(dwell_s <= part.material.longest_s).only_enforce_if(heated)
        if len(self.slots) * part.material.longest_s > part.material.total_s:
            seconds = self.seconds_where(self.heated[k], part.material.longest_s)
            self.model.add(sum(seconds) <= part.material.total_s)

    def _second_press(self, k: int, part: Part) -> None:
        if not part.material.finish_s:
            return
        row, down = self.second_press[k], self.down[part.piece]
        self.model.add_bool_or(row[1:])
        self.model.add_bool_and(~row[0])
        for n in self.slots[1:]:
            self.model.add_implication(row[n], self.counted[k][n])
            self.model.add_implication(row[n], down[n - 1])
            self.model.add(self.dwell_s[n] >= part.material.finish_s).only_enforce_if(row[n])


def _turns(solver: cp_model.CpSolver, row: Row, n: int) -> bool:
    """Whether the row's flag is set from slot `n` on."""
    return solver.boolean_value(row[n]) and not (n and solver.boolean_value(row[n - 1]))
