"""As few seconds as the same number of hits takes, then as few re-heats: a slot model with a cost.

Among the best of these it takes the one that touches the fewest parts: of two ways to come to the same
seconds, the one that heats less.

The rows of a slot model may call a piece down or finished later than it is. Here that would hide re-heats, so
here they may not.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from ortools.sat.python import cp_model

from models.planning.cpsat.feasibility import solver_for
from models.planning.cpsat.slot_model import Flag, Phases, SlotModel
from models.planning.cpsat.solver import Halt
from models.planning.problem.bitset import members
from models.planning.problem.side import Part, SideWork
from models.planning.problem.state import Closing

TOUCHES_SHARE = 0.25
"""Of the effort for less dwell, spent besides on touching as little as can be."""
FOUND = (cp_model.OPTIMAL, cp_model.FEASIBLE)


@dataclass(frozen=True, slots=True)
class Lean:
    """The closings, and their re-heats, None where these were not counted; the seconds that as many take at
    the least, and the re-heats that go with so few.
    """

    closings: tuple[Closing, ...]
    reheats: int | None
    effort: float  # spent, in CP-SAT's deterministic seconds
    least_dwell_s: int = 0
    least_reheats: int = 0

    @property
    def dwell_s(self) -> int:
        return sum(closing.dwell_s for closing in self.closings)


def leanest(work: SideWork, phases: Phases, closings: Sequence[Closing], effort: float, halt: Halt) -> Lean:
    """As many hits as `closings`, where the search begins, of the least dwell and the fewest re-heats."""
    if halt.is_asked:  # a model takes long to write
        return Lean(tuple(closings), None, effort=0)
    model = SlotModel(work, phases, len(closings))
    costs, solver = _Costs(model), solver_for(effort)
    model.hint(closings)
    costs.minimize_seconds()
    if halt.solve(solver, model.model) not in FOUND:
        return Lean(tuple(closings), None, effort)
    spent, least = solver.response_proto.deterministic_time, costs.at_least(solver)
    reheats = round(solver.objective_value) % costs.a_second
    lean = model.closings(solver)
    costs.minimize_touches(solver)
    model.hint(lean)
    solver = solver_for(effort * TOUCHES_SHARE)
    if halt.solve(solver, model.model) in FOUND:
        lean = model.closings(solver)
        spent += solver.response_proto.deterministic_time
    return Lean(lean, reheats, spent, *least)


class _Costs:
    """What makes a sequence of so many hits dearer: a second more than all re-heats together."""

    def __init__(self, slots: SlotModel) -> None:
        self.slots, self.model = slots, slots.model
        pieces = range(len(slots.work.pieces))
        reheats = [flag for p in pieces for flag in self._reheats(p)]
        for p in pieces:
            self._down_as_soon_as_it_is(p)
        self.a_second = len(reheats) + 1
        self.cost = sum(slots.dwell_s) * self.a_second + sum(reheats)

    def minimize_seconds(self) -> None:
        self.model.minimize(self.cost)

    def minimize_touches(self, solver: cp_model.CpSolver) -> None:
        """For as few seconds and re-heats as the solver has found."""
        self.model.clear_hints()  # type: ignore[no-untyped-call]  # the library gives it no types
        self.model.add(self.cost <= round(solver.objective_value))
        self.model.minimize(sum(flag for row in self.slots.heated for flag in row))

    def at_least(self, solver: cp_model.CpSolver) -> tuple[int, int]:
        """The dwell, and the re-heats that go with it, below which nothing costs so much."""
        return divmod(max(0, ceil(solver.best_objective_bound)), self.a_second)

    def _reheats(self, piece: int) -> list[Flag]:
        """For each slot but the first, whether the piece was finished before it and is touched."""
        finished, flags = self._finished(piece), []
        for n in self.slots.slots[1:]:
            reheats = self.slots.flag()
            for k in members(self.slots.work.parts_of_piece[piece]):
                self.model.add_bool_or(~self.slots.heated[k][n], ~finished[n - 1], reheats)
            flags.append(reheats)
        return flags

    def _finished(self, piece: int) -> list[Flag]:
        """Set from the slot on after which the piece is down and each part has had its second press."""
        parts = [k for k in members(self.slots.work.parts_of_piece[piece]) if k in self.slots.second_press]
        if not parts:
            return self.slots.down[piece]
        pressed = [self._pressed_again(k, self.slots.work.parts[k]) for k in parts]
        rows = [self.slots.down[piece], *pressed]
        finished = [self.slots.flag() for _ in self.slots.slots]
        for n, flag in enumerate(finished):
            self.model.add_bool_or(*(~row[n] for row in rows), flag)
        return finished

    def _pressed_again(self, k: int, part: Part) -> list[Flag]:
        """Set from the part's second press on, which is any counted hit that is long enough."""
        row, down = self.slots.second_press[k], self.slots.down[part.piece]
        had = [self.slots.flag() for _ in self.slots.slots]
        for n in self.slots.slots[1:]:
            is_long = self.slots.flag()
            self.model.add(self.slots.dwell_s[n] < part.material.finish_s).only_enforce_if(~is_long)
            self.model.add_bool_or(~self.slots.counted[k][n], ~down[n - 1], ~is_long, row[n])
            self.model.add_implication(row[n], had[n])
            self.model.add_implication(had[n - 1], had[n])
        return had

    def _down_as_soon_as_it_is(self, piece: int) -> None:
        """Until it is called down, one of its parts misses a second at least."""
        parts = list(members(self.slots.work.parts_of_piece[piece]))
        missing = [[self.slots.flag() for _ in self.slots.slots] for _ in parts]
        for k, flags in zip(parts, missing, strict=True):
            material = self.slots.work.parts[k].material
            seconds = self.slots.seconds_where(self.slots.counted[k], material.longest_s)
            for n, flag in enumerate(flags):
                self.model.add(sum(seconds[: n + 1]) < material.least_s).only_enforce_if(flag)
        for n, is_down in enumerate(self.slots.down[piece]):
            self.model.add_bool_or(is_down, *(flags[n] for flags in missing))
