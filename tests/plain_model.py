"""The written rules as one plain constraint model: the reference for the planner's proofs and for its speed.

Every hit of the garment is a slot: its side, its corner as two integers, its temperature, its pressure and
its dwell are variables, and each rule is written down as it stands. It shares nothing with the planner's
search but the order in which pieces may be laid; windows are taken at whole degrees.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from ortools.sat.python import cp_model

from models.job.job import Job, Pressure, ZoneKind
from models.planning.waiting import waiting
from tests.pressed_garment import SAME_MM, Bounds, parts_in, shape_of

Flag = cp_model.IntVar
FAR_MM = 5000


@dataclass(frozen=True)
class Proof:
    """The fewest hits, and whether the model proved them."""

    hits: int
    is_proved: bool


def fewest_hits(job: Job, most: int, seconds: float) -> Proof | None:
    """The fewest hits, `most` at the most; None where there is no sequence, or none was found in time."""
    plain = _PlainModel(job, most)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 2
    solver.parameters.max_time_in_seconds = seconds
    status = solver.solve(plain.model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None
    return Proof(round(solver.objective_value), status == cp_model.OPTIMAL)


class _PlainModel:
    def __init__(self, job: Job, most: int) -> None:
        self.job, self.slots, self.model = job, range(most), cp_model.CpModel()
        new, longest_s = self.model.new_int_var, max(m.longest_s for m in job.materials)
        self.used = [self.flag() for _ in self.slots]
        self.side = [new(0, len(job.sides) - 1, "") for _ in self.slots]
        self.x = [new(-FAR_MM, FAR_MM, "") for _ in self.slots]
        self.y = [new(-FAR_MM, FAR_MM, "") for _ in self.slots]
        hottest_c = math.floor(min(job.press.hottest_c, job.fabric.hottest_c))
        self.celsius = [new(math.ceil(job.press.lowest_c), hottest_c, "") for _ in self.slots]
        self.pressure = [new(0, len(Pressure) - 1, "") for _ in self.slots]
        self.dwell_s = [new(job.press.shortest_s, longest_s, "") for _ in self.slots]
        self.laid = {piece.id: self.steps() for piece in job.pieces}
        self.down = {piece.id: self.steps() for piece in job.pieces}
        for n in self.slots[1:]:
            self.model.add_implication(self.used[n], self.used[n - 1])
        self.keep_outs()
        self.order()
        for piece in job.pieces:
            self.pressed(piece.id)
        self.model.minimize(sum(self.used))

    def flag(self) -> Flag:
        return self.model.new_bool_var("")

    def steps(self) -> list[Flag]:
        row = [self.flag() for _ in self.slots]
        for before, after in pairwise(row):
            self.model.add_implication(before, after)
        self.model.add_bool_and(row[-1:])
        return row

    def is_true(self, bounded: cp_model.BoundedLinearExpression, opposite: object) -> Flag:
        flag = self.flag()
        self.model.add(bounded).only_enforce_if(flag)
        self.model.add(opposite).only_enforce_if(~flag)
        return flag

    def at_most(self, expression: cp_model.LinearExprT, most: int) -> Flag:
        return self.is_true(expression <= most, expression > most)

    def all_of(self, flags: list[cp_model.LiteralT]) -> Flag:
        flag = self.flag()
        self.model.add_bool_and(flags).only_enforce_if(flag)
        self.model.add_bool_or(flag, *(~f for f in flags))
        return flag

    def on_side(self, n: int, name: str) -> Flag:
        number = [side.name for side in self.job.sides].index(name)
        return self.is_true(self.side[n] == number, self.side[n] != number)

    def shares_area(self, n: int, box: Bounds) -> Iterator[cp_model.LiteralT]:
        for corner, low, high, length in self._axes(n, box):
            yield ~self.at_most(corner, math.floor(low - length + SAME_MM))
            yield self.at_most(corner, math.ceil(high - SAME_MM) - 1)

    def holds(self, n: int, box: Bounds) -> Iterator[cp_model.LiteralT]:
        for corner, low, high, length in self._axes(n, box):
            yield self.at_most(corner, math.floor(low + SAME_MM))
            yield ~self.at_most(corner, math.ceil(high - length - SAME_MM) - 1)

    def _axes(self, n: int, box: Bounds) -> list[tuple[Flag, float, float, float]]:
        press = self.job.press
        across = (self.x[n], box[0], box[2], press.platen_width_mm)
        return [across, (self.y[n], box[1], box[3], press.platen_height_mm)]

    def keep_outs(self) -> None:
        for side in self.job.sides:
            for zone in side.zones_of(ZoneKind.KEEP_OUT):
                metal = (zone.box.x, zone.box.y, zone.box.right, zone.box.bottom)
                for n in self.slots:
                    there = [self.on_side(n, side.name), *self.shares_area(n, metal)]
                    self.model.add_bool_or(~flag for flag in there)

    def order(self) -> None:
        for side in self.job.sides:
            ids = [piece for piece in self.job.pieces if piece.side == side.name]
            if not ids:
                continue
            order = waiting(self.job, ids)
            for p, piece in enumerate(ids):
                for q, other in enumerate(ids[:p]):
                    if order.apart[p] >> q & 1:
                        self._one_after_the_other(
                            piece.id, other.id, order.after[p] >> q & 1, order.after[q] >> p & 1
                        )

    def _one_after_the_other(self, piece: str, other: str, piece_waits: int, other_waits: int) -> None:
        other_first = self.flag()
        if piece_waits:
            self.model.add_bool_and([other_first])
        if other_waits:
            self.model.add_bool_and([~other_first])
        for n in self.slots:
            self.model.add_bool_or(
                ~other_first, ~self.laid[piece][n], *self.down[other][n - 1 : n] if n else []
            )
            self.model.add_bool_or(
                other_first, ~self.laid[other][n], *self.down[piece][n - 1 : n] if n else []
            )

    def pressed(self, piece: str) -> None:
        material, laid, down = self.job.material_of(piece), self.laid[piece], self.down[piece]
        parts = parts_in(shape_of(self.job.piece(piece)).bounds, self.job)
        touching: list[list[Flag]] = [[] for _ in self.slots]
        for n in self.slots:
            self.model.add_implication(down[n], laid[n])
        for part in parts:
            counted_s, heated_s, finishes = [], [], []
            for n in self.slots:
                here = [self.used[n], laid[n], self.on_side(n, self.job.piece(piece).side)]
                touched = self.all_of([*here, *self.shares_area(n, part)])
                counted = self.all_of([*here, *self.holds(n, part), *self._suits(n, piece)])
                touching[n].append(touched)
                self.model.add(self.dwell_s[n] <= material.longest_s).only_enforce_if(touched)
                self.model.add(self.celsius[n] <= math.floor(material.hottest_c)).only_enforce_if(touched)
                if len(parts) == 1:
                    self.model.add_bool_or(~touched, counted, *(down[n - 1 : n] if n else []))
                counted_s.append(self._dwell_if(n, counted))
                heated_s.append(self._dwell_if(n, touched))
                finish = self.flag()
                self.model.add_bool_and([counted, *(down[n - 1 : n] if n else [~counted])]).only_enforce_if(
                    finish
                )
                self.model.add(self.dwell_s[n] >= material.finish_s).only_enforce_if(finish)
                finishes.append(finish)
            for n in self.slots:
                self.model.add(sum(counted_s[: n + 1]) >= material.least_s).only_enforce_if(down[n])
            self.model.add(sum(heated_s) <= material.total_s)
            if material.finish_s:
                self.model.add_bool_or(finishes)
        for n in self.slots:
            self.model.add_bool_or(~laid[n], *(laid[n - 1 : n] if n else []), *touching[n])

    def _suits(self, n: int, piece: str) -> Iterator[cp_model.LiteralT]:
        material = self.job.material_of(piece)
        yield ~self.at_most(self.celsius[n], math.ceil(material.lowest_c) - 1)
        yield self.at_most(self.celsius[n], math.floor(material.hottest_c))
        fits = self.flag()
        taken = [(list(Pressure).index(pressure),) for pressure in material.pressures]
        self.model.add_allowed_assignments([self.pressure[n]], taken).only_enforce_if(fits)
        yield fits

    def _dwell_if(self, n: int, flag: Flag) -> Flag:
        seconds = self.model.new_int_var(0, 10_000, "")
        self.model.add(seconds == self.dwell_s[n]).only_enforce_if(flag)
        self.model.add(seconds == 0).only_enforce_if(~flag)
        return seconds
