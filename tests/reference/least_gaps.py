"""How long one press has to stand open for one person: a bound that knows the order of the settings.

The checks that fit into no dwell, and the changes of heat, keep a press from its next hit. How long at least
is found by an integer model for each order of settings that could still be the best; it takes seconds and the
solver, so that it is what rotation is measured against and nothing that the floor uses.
"""

from collections import Counter
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise, starmap
from math import floor, inf

from ortools.sat.python import cp_model

from models.errors import CalculationError
from models.rotation.problem.bounds import least_s, pressed_s
from models.rotation.problem.shop import Press, Shop, Visit

SECONDS = 5.0
"""Search for each order of settings; what is proved of it until then counts."""


def least_with_gaps_s(shop: Shop, known_s: float, ticks_per_s: int = 2) -> float:
    """A lower bound of the seconds until all garments are done, never above `known_s`, which was reached.

    Times are rounded down to `1 / ticks_per_s` s.

    Raises:
        CalculationError: there is not one press and one person, a change of heat takes no time, or a garment
            has been begun.
    """
    press = _refuse_others(shop)
    pressed = press.free_s + pressed_s(shop, press)
    kinds = Counter(garment.visits for garment in shop.garments if garment.visits)
    orders = _orders(kinds, press, known_s - pressed) if kinds else ()
    bounds_s = [pressed + _Gaps(kinds, press, order, ticks_per_s).least_s() for order in orders]
    return max(least_s(shop), min([known_s, *bounds_s]))


def _refuse_others(shop: Shop) -> Press:
    """The one press."""
    if len(shop.presses) != 1 or shop.people != 1 or any(garment.is_off for garment in shop.garments):
        raise CalculationError("gaps are counted for one person at one press, before the first hit")
    if not (shop.presses[0].heating_s_per_degree and shop.presses[0].cooling_s_per_degree):
        raise CalculationError("gaps are counted where a change of heat takes time")
    return shop.presses[0]


def _orders(kinds: Collection[tuple[Visit, ...]], press: Press, left_s: float) -> Iterator[tuple[float, ...]]:
    """The orders of temperatures in which all garments can be worked with changes of at most `left_s`."""
    temperatures = sorted({visit.setting.temperature_c for visits in kinds for visit in visits})
    begun: list[tuple[float, ...]] = [(temperature_c,) for temperature_c in temperatures]
    while begun:
        order = begun.pop()
        if sum(_changes_s(press, order)) > left_s:
            continue
        if all(_goes(visits, order) for visits in kinds):
            yield order
        begun += [(*order, after_c) for after_c in temperatures if after_c != order[-1]]


def _changes_s(press: Press, order: Sequence[float]) -> list[float]:
    """To the first of the temperatures, and from each to the next."""
    first_s = press.change_s(press.temperature_c, order[0])
    return [first_s, *starmap(press.change_s, pairwise(order))]


def _goes(visits: Sequence[Visit], order: Sequence[float]) -> bool:
    """Whether the visits can be made in this order of temperatures."""
    ahead = [visit.setting.temperature_c for visit in visits]
    for temperature_c in order:
        while ahead and ahead[0] == temperature_c:
            del ahead[0]
    return not ahead


@dataclass(frozen=True, slots=True)
class _Made:
    """How many of one kind's visits are pressed at each setting of the order, and how many are checked there,
    or afterwards while the press is set anew."""

    visit: Visit
    pressed: list[cp_model.IntVar]
    checked: list[cp_model.IntVar]
    afterwards: list[cp_model.IntVar]

    def checked_by(self, place: int) -> list[cp_model.IntVar]:
        """Those whose garments can still be pressed at this setting."""
        return self.checked[: place + 1] + self.afterwards[:place]


class _Gaps:
    """The press goes through one order of settings; checks lie in dwells, in changes, or keep it open."""

    def __init__(
        self, kinds: Counter[tuple[Visit, ...]], press: Press, order: Sequence[float], ticks_per_s: int
    ) -> None:
        self.model = cp_model.CpModel()
        self.order, self.per_s = order, ticks_per_s
        self.most = sum(len(visits) * many for visits, many in kinds.items())
        self.made = [one for visits, many in kinds.items() for one in self._made(visits, many)]
        self._use_every_setting()
        self.lengths_s = sorted({one.visit.finish_s for one in self.made if one.visit.finish_s})
        self.first_s, *between_s = _changes_s(press, order)
        last_s = min(visits[-1].rest_s + visits[-1].finish_s for visits in kinds)
        gaps = [self._gap(place, change_s) for place, change_s in enumerate((*between_s, last_s))]
        self.model.minimize(sum(gaps))

    def least_s(self) -> float:
        """Infinite where the garments can't be worked in this order."""
        solver = cp_model.CpSolver()
        solver.parameters.max_time_in_seconds = SECONDS
        if solver.solve(self.model) == cp_model.INFEASIBLE:
            return inf
        return self.first_s + solver.best_objective_bound / self.per_s

    def _made(self, visits: Sequence[Visit], many: int) -> Iterator[_Made]:
        """Every garment's visit is made at its temperature, after the check of the one before."""
        before: _Made | None = None
        for visit in visits:
            made = _Made(visit, *(self._counts(many) for _ in range(3)))
            for place, temperature_c in enumerate(self.order):
                pressed = sum(made.pressed[: place + 1])
                if temperature_c != visit.setting.temperature_c:
                    self.model.add(made.pressed[place] == 0)
                self.model.add(sum([*made.checked_by(place), made.afterwards[place]]) <= pressed)
                if before is not None:
                    self.model.add(pressed <= sum(before.checked_by(place)))
            self.model.add(sum(made.pressed) == many)
            self.model.add(sum(made.checked) + sum(made.afterwards) == many)
            before = made
            yield made

    def _use_every_setting(self) -> None:
        """Or else it would be another order, with fewer changes."""
        for place in range(len(self.order)):
            self.model.add(sum(one.pressed[place] for one in self.made) >= 1)

    def _counts(self, most: int) -> list[cp_model.IntVar]:
        return [self.model.new_int_var(0, most, "") for _ in self.order]

    def _gap(self, place: int, change_s: float) -> cp_model.LinearExprT:
        """Ticks of open press at this setting and up to the next.

        A check keeps it open where it lies in no dwell, and where the changes are not as long as the checks
        that are made in them. After the last hit the last garment has to rest and to be checked.
        """
        in_dwells = self._in_dwells(place)
        outside = [
            self._ticks(length_s) * (sum(self._of_length(length_s, place)) - held)
            for length_s, held in in_dwells.items()
        ]
        change, checks = self._ticks(change_s), self._ticks(sum(self.lengths_s)) * self.most
        following = self.model.new_int_var(change, change + checks, "")
        self.model.add(
            following >= sum(self._ticks(one.visit.finish_s) * one.afterwards[place] for one in self.made)
        )
        return sum(outside) + following

    def _of_length(self, length_s: float, place: int) -> list[cp_model.IntVar]:
        return [one.checked[place] for one in self.made if one.visit.finish_s == length_s]

    def _in_dwells(self, place: int) -> dict[float, cp_model.IntVar]:
        """How many checks of each length lie in the dwells at this setting."""
        held = {length_s: self.model.new_int_var(0, self.most, "") for length_s in self.lengths_s}
        fillings = list[tuple[Counter[float], cp_model.IntVar]]()
        for dwell_s in {one.visit.dwell_s for one in self.made}:
            pressed = sum(one.pressed[place] for one in self.made if one.visit.dwell_s == dwell_s)
            own = [(way, self.model.new_int_var(0, self.most, "")) for way in _ways(dwell_s, self.lengths_s)]
            self.model.add(sum(times for _, times in own) <= pressed)
            fillings += own
        for length_s, many in held.items():
            self.model.add(many <= sum(way[length_s] * times for way, times in fillings))
            self.model.add(many <= sum(self._of_length(length_s, place)))
        return held

    def _ticks(self, seconds: float) -> int:
        return floor(seconds * self.per_s + 1e-6)


def _ways(dwell_s: float, lengths_s: Sequence[float]) -> Iterator[Counter[float]]:
    """All ways to fill a dwell with checks of these lengths, the shortest last."""
    if not lengths_s:
        yield Counter()
        return
    *shorter, longest_s = lengths_s
    for times in range(int(dwell_s // longest_s) + 1):
        for way in _ways(dwell_s - times * longest_s, shorter):
            yield way + Counter({longest_s: times})
