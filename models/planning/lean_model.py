"""As few seconds as the same number of hits takes, and then as few re-heats: a slot model with a cost.

The rows of a slot model may call a piece down or finished later than it is. Here that would hide re-heats, so
here they may not.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from ortools.sat.python import cp_model

from models.planning.bits import members
from models.planning.closing import Closing
from models.planning.exact import solver_for
from models.planning.halting import Halt
from models.planning.side_work import Part, SideWork
from models.planning.slot_model import Flag, Phases, SlotModel


@dataclass(frozen=True, slots=True)
class Lean:
    """The closings; whether as many can have no less dwell; their re-heats, if proved the fewest."""

    closings: tuple[Closing, ...]
    is_least_dwell: bool
    fewest_reheats: int | None


def leanest(work: SideWork, phases: Phases, closings: Sequence[Closing], effort: float, halt: Halt) -> Lean:
    """As many hits as `closings`, where the search begins, of the least dwell and the fewest re-heats."""
    model = SlotModel(work, phases, len(closings))
    model.hint(closings)
    costs = _Costs(model)
    solver = solver_for(effort)
    status = halt.solve(solver, model.model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return Lean(tuple(closings), is_least_dwell=False, fewest_reheats=None)
    found = model.closings(solver)
    dwell_s = sum(closing.dwell_s for closing in found)
    is_least_dwell = solver.best_objective_bound > (dwell_s - 1) * costs.a_second + costs.most_reheats
    reheats = round(solver.objective_value) - dwell_s * costs.a_second
    return Lean(found, is_least_dwell, reheats if status == cp_model.OPTIMAL else None)


class _Costs:
    """What makes a sequence of so many hits dearer: a second of dwell more than all re-heats together."""

    def __init__(self, slots: SlotModel) -> None:
        self.slots, self.model = slots, slots.model
        self.most_reheats = len(slots.work.pieces) * len(slots.slots)
        self.a_second = self.most_reheats + 1
        reheats = [flag for p in range(len(slots.work.pieces)) for flag in self._reheats(p)]
        for p in range(len(slots.work.pieces)):
            self._down_as_soon_as_it_is(p)
        self.model.minimize(sum(slots.dwell_s) * self.a_second + sum(reheats))

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
