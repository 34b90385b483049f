"""The written rules as one plain constraint model: the reference for the planner's proofs and for its speed.

Every hit of the garment is a slot: its press, its side, its corner as two integers, its temperature, its
pressure and its dwell are variables, and each rule is written down as it stands. It shares nothing with the
planner; windows are taken at whole degrees.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import combinations, pairwise

from ortools.sat.python import cp_model
from shapely.geometry.base import BaseGeometry

from models.job.job import Job, Material, Pressure, ZoneKind
from tests.pressed_garment import SAME_MM, Bounds, overlap, parts_in, shape_of

Flag = cp_model.IntVar
FAR_MM = 5000


@dataclass(frozen=True)
class Proof:
    """The fewest, and whether the model proved it."""

    least: int
    is_proved: bool


def fewest_hits(job: Job, most: int, seconds: float) -> Proof | None:
    """The fewest hits, `most` at the most; None where there is no sequence, or none was found in time."""
    plain = _PlainModel(job, most)
    plain.model.minimize(sum(plain.used))
    return _solved(plain.model, seconds)


def fewest_walks(job: Job, hits: int, seconds: float) -> int | None:
    """The fewest walks from press to press in so many hits; None where they were not proved in time."""
    plain = _PlainModel(job, hits)
    plain.model.add_bool_and(plain.used)
    plain.model.minimize(sum(plain.walks()))
    proof = _solved(plain.model, seconds)
    return proof.least if proof is not None and proof.is_proved else None


def fewest_changes(job: Job, hits: int, seconds: float) -> tuple[int, int] | None:
    """On one press, the fewest changes of temperature in so many hits, and of side in as few of these.

    None where they were not proved in time.
    """
    fewest: list[int] = []
    for costs in (_PlainModel.heats, _PlainModel.turns):
        plain = _PlainModel(job, hits)
        plain.model.add_bool_and(plain.used)
        for known in fewest:
            plain.model.add(sum(plain.heats()) <= known)
        plain.model.minimize(sum(costs(plain)))
        proof = _solved(plain.model, seconds)
        if proof is None or not proof.is_proved:
            return None
        fewest.append(proof.least)
    return fewest[0], fewest[1]


def _solved(model: cp_model.CpModel, seconds: float) -> Proof | None:
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 2
    solver.parameters.max_time_in_seconds = seconds
    status = solver.solve(model)
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
        self.presses = (job.press, *job.more_presses)
        self.by = [self.one_of(len(self.presses)) for _ in self.slots]
        self.celsius = [new(0, math.floor(job.fabric.hottest_c), "") for _ in self.slots]
        self.pressure = [new(0, len(Pressure) - 1, "") for _ in self.slots]
        shortest_s = max(press.shortest_s for press in self.presses)
        self.dwell_s = [new(shortest_s, longest_s, "") for _ in self.slots]
        self.laid = {piece.id: self.steps() for piece in job.pieces}
        self.down = {piece.id: self.steps() for piece in job.pieces}
        for n in self.slots[1:]:
            self.model.add_implication(self.used[n], self.used[n - 1])
        self.reach()
        self.keep_outs()
        self.order()
        for piece in job.pieces:
            self.pressed(piece.id)

    def flag(self) -> Flag:
        return self.model.new_bool_var("")

    def steps(self) -> list[Flag]:
        row = [self.flag() for _ in self.slots]
        for before, after in pairwise(row):
            self.model.add_implication(before, after)
        self.model.add_bool_and(row[-1:])
        return row

    def one_of(self, count: int) -> list[Flag]:
        flags = [self.flag() for _ in range(count)]
        self.model.add_exactly_one(flags)
        return flags

    def is_true(self, bounded: cp_model.BoundedLinearExpression, opposite: object) -> Flag:
        flag = self.flag()
        self.model.add(bounded).only_enforce_if(flag)
        self.model.add(opposite).only_enforce_if(~flag)
        return flag

    def by_press(self, n: int, numbers: Iterable[int]) -> Flag:
        """Of a number for each press, that of the press of this hit."""
        of_press = self.model.new_int_var(-FAR_MM, FAR_MM, "")
        for flag, number in zip(self.by[n], numbers, strict=True):
            self.model.add(of_press == number).only_enforce_if(flag)
        return of_press

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
        for corner, low, high, lengths in self._axes(n, box):
            before = self.by_press(n, (math.floor(low - length + SAME_MM) for length in lengths))
            yield ~self.at_most(corner - before, 0)
            yield self.at_most(corner, math.ceil(high - SAME_MM) - 1)

    def holds(self, n: int, box: Bounds) -> Iterator[cp_model.LiteralT]:
        for corner, low, high, lengths in self._axes(n, box):
            ends_before = self.by_press(n, (math.ceil(high - length - SAME_MM) - 1 for length in lengths))
            yield self.at_most(corner, math.floor(low + SAME_MM))
            yield ~self.at_most(corner - ends_before, 0)

    def _axes(self, n: int, box: Bounds) -> list[tuple[Flag, float, float, list[float]]]:
        widths = [press.platen_width_mm for press in self.presses]
        heights = [press.platen_height_mm for press in self.presses]
        return [(self.x[n], box[0], box[2], widths), (self.y[n], box[1], box[3], heights)]

    def walks(self) -> list[Flag]:
        """For each two hits in a row, whether somebody walks from one press to another between them."""
        walked = []
        for before, after in pairwise(self.by):
            walked.append(self.flag())
            for was, now in zip(before, after, strict=True):
                self.model.add_bool_or(~was, now, walked[-1])
        return walked

    def heats(self) -> list[Flag]:
        """For each two hits in a row, whether they are set differently."""
        return [self._differ(before, after) for before, after in pairwise(self.celsius)]

    def turns(self) -> list[Flag]:
        """For each two hits in a row, whether they are on different sides."""
        return [self._differ(before, after) for before, after in pairwise(self.side)]

    def _differ(self, before: Flag, after: Flag) -> Flag:
        flag = self.flag()
        self.model.add(before == after).only_enforce_if(~flag)
        return flag

    def reach(self) -> None:
        for n in self.slots:
            lowest = self.by_press(n, (math.ceil(press.lowest_c) for press in self.presses))
            hottest = self.by_press(n, (math.floor(press.hottest_c) for press in self.presses))
            self.model.add(self.celsius[n] >= lowest)
            self.model.add(self.celsius[n] <= hottest)

    def keep_outs(self) -> None:
        for side in self.job.sides:
            for zone in side.zones_of(ZoneKind.KEEP_OUT):
                metal = (zone.box.x, zone.box.y, zone.box.right, zone.box.bottom)
                for n in self.slots:
                    there = [self.on_side(n, side.name), *self.shares_area(n, metal)]
                    self.model.add_bool_or(~flag for flag in there)

    def order(self) -> None:
        """Rules 1 to 3, for every two pieces of a side; the upper one stands later in the file."""
        shapes = {piece.id: shape_of(piece) for piece in self.job.pieces}
        for lower, upper in combinations(self.job.pieces, 2):
            if lower.side != upper.side:
                continue
            below, above = self.job.material(lower.material), self.job.material(upper.material)
            is_stacked = overlap(shapes[lower.id], shapes[upper.id])
            is_over = above.carrier and overlap(_carrier(above, shapes[upper.id]), shapes[lower.id])
            is_under = below.carrier and overlap(_carrier(below, shapes[lower.id]), shapes[upper.id])
            if is_stacked or is_over or is_under:
                upper_last = self.one_after_the_other(lower.id, upper.id)
                if is_stacked or (is_under and not above.carrier_safe):
                    self.model.add_bool_and([upper_last])
                if is_over and not (is_stacked or below.carrier_safe):
                    self.model.add_bool_and([~upper_last])
            if is_stacked and not below.takes(above):
                self.model.add_bool_or([])

    def one_after_the_other(self, lower: str, upper: str) -> Flag:
        """One of them is laid once the other is down; set if that is the upper one."""
        upper_last = self.flag()
        for n in self.slots:
            lower_was_down, upper_was_down = (
                self.down[piece][n - 1 : n] if n else [] for piece in (lower, upper)
            )
            self.model.add_bool_or(~upper_last, ~self.laid[upper][n], *lower_was_down)
            self.model.add_bool_or(upper_last, ~self.laid[lower][n], *upper_was_down)
        return upper_last

    def pressed(self, piece: str) -> None:
        material, laid, down = self.job.material_of(piece), self.laid[piece], self.down[piece]
        parts = parts_in(shape_of(self.job.piece(piece)).bounds, self.job, material)
        touching: list[list[Flag]] = [[] for _ in self.slots]
        for n in self.slots:
            self.model.add_implication(down[n], laid[n])
            is_laid_now = [laid[n], *([~laid[n - 1]] if n else [])]
            self.model.add(self.dwell_s[n] >= material.first_s).only_enforce_if(is_laid_now)
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


def _carrier(material: Material, shape: BaseGeometry) -> BaseGeometry:
    return shape.buffer(material.carrier_margin_mm)
