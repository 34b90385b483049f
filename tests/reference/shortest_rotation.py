"""The shortest way to work a small shop, proved, by a constraint model: what the rules are measured against.

It takes seconds and the solver, so that the floor does not use it.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import chain

from ortools.sat.python import cp_model

from models.errors import CalculationError
from models.rotation.problem.shop import Garment, Press, Shop, Visit
from models.rotation.simulation.simulator import Act, Course

WORKERS = 4
"""Threads that search: each has a way of its own, so that some more than there are cores serve."""


@dataclass(frozen=True, slots=True)
class ExactEnd:
    """When the last garment is done at the earliest: `end_s` was reached, nothing is below `bound_s`."""

    end_s: float
    bound_s: float

    @property
    def is_proved(self) -> bool:
        return self.end_s == self.bound_s


def earliest_end(
    shop: Shop, seconds: float = 30.0, *, known: Course | None = None, ticks_per_s: int = 1
) -> ExactEnd:
    """The least seconds until all is done, with at most `seconds` of search, begun from a `known` course.

    Times are rounded up to `1 / ticks_per_s` s. A press may be set anew whenever it is empty.

    Raises:
        CalculationError: nothing was found in that time.
    """
    model = _Model(shop, ticks_per_s)
    if known is not None:
        model.begin_from(known)
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = WORKERS
    status = solver.solve(model.model)
    if status not in {cp_model.OPTIMAL, cp_model.FEASIBLE}:
        raise CalculationError(f"no way to work the shop was found within {seconds:.0f} s")
    ticks = float(ticks_per_s)
    return ExactEnd(solver.objective_value / ticks, solver.best_objective_bound / ticks)


@dataclass(frozen=True, slots=True)
class _Stay:
    """One visit's stay on its press, in ticks."""

    start: cp_model.IntVar
    on_press: int
    temperature_c: float
    alike: int  # which like garments it is one of,
    visit: int  # at which of their visits
    place: int  # and the how manieth among them


class _Model:
    """Starts of all visits and finishes; presses one at a time, people as many as there are."""

    def __init__(self, shop: Shop, ticks_per_s: int) -> None:
        self.shop = shop
        self.per_s = ticks_per_s
        self.model = cp_model.CpModel()
        self.horizon = self._horizon()
        self.starts: dict[tuple[Act, int, int], cp_model.IntVar] = {}
        self.hands: list[cp_model.IntervalVar] = []
        self.stays: dict[str, list[_Stay]] = {press.name: [] for press in shop.presses}
        self.end = self._time()
        self.like = _like(shop.garments)
        for index, garment in enumerate(shop.garments):
            self._follow(index, garment)
        self._keep_like_in_order()
        self._share_presses()
        self._share_people()
        self.model.minimize(self.end)

    def _ticks(self, seconds: float) -> int:
        return -int(-Fraction(seconds).limit_denominator(1000) * self.per_s // 1)

    def _time(self) -> cp_model.IntVar:
        return self.model.new_int_var(0, self.horizon, "")

    def _horizon(self) -> int:
        visits = list(chain.from_iterable(garment.visits for garment in self.shop.garments))
        whole = sum(self._ticks(visit.whole_s) + 3 for visit in visits)
        waits = [g.ready_s for g in self.shop.garments] + [p.free_s for p in self.shop.presses]
        begins = self._ticks(max([*waits, *(span.end_s for span in self.shop.taken), 0.0]))
        return begins + whole + sum(self._dearest(press) * (len(visits) + 1) for press in self.shop.presses)

    def _dearest(self, press: Press) -> int:
        visits = chain.from_iterable(garment.visits for garment in self.shop.garments)
        temperatures = {visit.setting.temperature_c for visit in visits if visit.setting.press == press.name}
        stands = temperatures | ({press.temperature_c} if press.temperature_c is not None else set())
        return max((self._ticks(press.change_s(a, b)) for a in stands for b in temperatures), default=0)

    def begin_from(self, known: Course) -> None:
        """The search begins from this course."""
        for step in known.steps:
            start = self.starts.get((step.act, step.garment, step.visit))
            if start is not None:
                self.model.add_hint(start, self._ticks(step.start_s))

    def _follow(self, index: int, garment: Garment) -> None:
        """A garment's visits one after the other, its rests between them."""
        after: cp_model.LinearExprT = self._ticks(garment.ready_s)
        for n, visit in enumerate(garment.visits):
            if n or not garment.is_off:
                start = self._begin(Act.PRESS, index, n, after)
                after = self._press(visit, start, (*self.like[index], n)) + self._ticks(visit.rest_s)
            if visit.finish_s:
                start = self._begin(Act.FINISH, index, n, after)
                self._hand(start, self._ticks(visit.finish_s))
                after = start + self._ticks(visit.finish_s)
        self.model.add(self.end >= after)

    def _begin(self, act: Act, index: int, visit: int, after: cp_model.LinearExprT) -> cp_model.IntVar:
        start = self.starts[act, index, visit] = self._time()
        self.model.add(start >= after)
        return start

    def _press(
        self, visit: Visit, start: cp_model.IntVar, which: tuple[int, int, int]
    ) -> cp_model.LinearExprT:
        """The visit's stay on the press; gives when it is off."""
        lay, dwell, off = (self._ticks(s) for s in (visit.lay_s, visit.dwell_s, visit.off_s))
        self._hand(start, lay)
        self._hand(start + lay + dwell, off)
        alike, place, n = which
        stay = _Stay(start, lay + dwell + off, visit.setting.temperature_c, alike, n, place)
        self.stays[visit.setting.press].append(stay)
        return start + lay + dwell + off

    def _keep_like_in_order(self) -> None:
        """Of garments that are alike, the earlier one goes first at every visit: nothing is lost by it.

        The earliest of the starts at a visit can always be given to the first of them, and so on: each has
        still its rests then. Else the search would go through all their orders.
        """
        for (act, index, visit), start in self.starts.items():
            alike, place = self.like[index]
            if place:
                before = self.like.index((alike, place - 1))
                self.model.add(start >= self.starts[act, before, visit])

    def _hand(self, start: cp_model.LinearExprT, lasts: int) -> None:
        if lasts:
            self.hands.append(self.model.new_fixed_size_interval_var(start, lasts, ""))

    def _share_people(self) -> None:
        bound = [
            self.model.new_fixed_size_interval_var(start, self._ticks(span.end_s) - start, "")
            for span in self.shop.taken
            for start in [self._ticks(max(0.0, span.start_s))]
        ]
        self.model.add_cumulative([*self.hands, *bound], [1] * len(self.hands + bound), self.shop.people)

    def _share_presses(self) -> None:
        for press in self.shop.presses:
            stays = self.stays[press.name]
            for stay in stays:
                stands = self._ticks(press.change_s(press.temperature_c, stay.temperature_c))
                self.model.add(stay.start >= self._ticks(press.free_s) + stands)
            on_press = [self.model.new_fixed_size_interval_var(s.start, s.on_press, "") for s in stays]
            self.model.add_no_overlap(on_press)
            if len({stay.temperature_c for stay in stays}) > 1:
                self._change_between(press, stays)

    def _change_between(self, press: Press, stays: Sequence[_Stay]) -> None:
        """One follows the other; between two of unlike heat lies the change."""
        arcs: list[tuple[int, int, cp_model.LiteralT]] = []
        for i, before in enumerate(stays, start=1):
            arcs += [(0, i, self.model.new_bool_var("")), (i, 0, self.model.new_bool_var(""))]
            for j, after in enumerate(stays, start=1):
                if i == j or not _may_follow(before, after):
                    continue
                follows = self.model.new_bool_var("")
                arcs.append((i, j, follows))
                change = self._ticks(press.change_s(before.temperature_c, after.temperature_c))
                gap = before.start + before.on_press + change
                self.model.add(after.start >= gap).only_enforce_if(follows)
        self.model.add_circuit(arcs)


def _like(garments: Sequence[Garment]) -> list[tuple[int, int]]:
    """For each garment, which like ones it is one of and the how manieth among them."""
    groups: dict[tuple[object, ...], list[int]] = {}
    placed = []
    for index, garment in enumerate(garments):
        group = groups.setdefault((garment.visits, garment.ready_s, garment.is_off), [])
        group.append(index)
        placed.append((group[0], len(group) - 1))
    return placed


def _may_follow(before: _Stay, after: _Stay) -> bool:
    """At the same visit, like garments come one after the other in their order."""
    if (before.alike, before.visit) != (after.alike, after.visit):
        return True
    return after.place == before.place + 1
