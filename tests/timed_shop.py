"""The earliest end of a tiny shop by another model than ours: one yes-or-no for each step and second.

SciPy's HiGHS solves it. It knows no intervals and no circuits: at each second it counts garments on a press
and people at work, and two hits of unlike heat may not begin within each other's time and change.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise, permutations

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_matrix

from models.rotation.problem.shop import Press, Shop, Span, Visit

Row = tuple[dict[int, float], float]
"""Coefficients of variables, whose sum is at most the number."""


@dataclass(frozen=True)
class _Task:
    """A hit or a check: `hands` are the parts of it that need a person."""

    lasts: int
    hands: tuple[Span, ...]
    after: int  # earliest beginning behind the task before it, or behind now
    visit: Visit | None = None  # of a hit


def earliest_end_by_seconds(shop: Shop, horizon: int) -> int:
    """All times are whole seconds; some course ends within `horizon`. Raises ValueError where none does."""
    return round(_Seconds(shop, horizon).solve())


class _Seconds:
    def __init__(self, shop: Shop, horizon: int) -> None:
        self.shop, self.horizon = shop, horizon
        self.chains = [
            list(_tasks(garment.visits, garment.ready_s, garment.is_off)) for garment in shop.garments
        ]
        self.tasks = [task for chain in self.chains for task in chain]
        self.number = {id(task): n for n, task in enumerate(self.tasks)}
        self.end = len(self.tasks) * horizon

    def solve(self) -> float:
        rows = list(self._rows())
        ones = [self._begins(task) for task in self.tasks]
        low = [-np.inf] * len(rows) + [1.0] * len(ones)
        high = [most for _, most in rows] + [1.0] * len(ones)
        coefficients = [row for row, _ in rows] + ones
        cost = np.zeros(self.end + 1)
        cost[self.end] = 1
        solved = milp(
            cost,
            constraints=LinearConstraint(self._matrix(coefficients), low, high),
            integrality=np.ones_like(cost),
            bounds=Bounds(0, [1.0] * self.end + [self.horizon]),
        )
        if not solved.success:
            raise ValueError(solved.message)
        return float(solved.fun)

    def _matrix(self, rows: list[dict[int, float]]) -> csr_matrix:
        entries = [(value, n, column) for n, row in enumerate(rows) for column, value in row.items()]
        values, ns, columns = zip(*entries, strict=True)
        return csr_matrix((values, (ns, columns)), shape=(len(rows), self.end + 1))

    def _begins(self, task: _Task, times: int = 0) -> dict[int, float]:
        """One for each second at which the task may begin, or so many times that second."""
        first = self.number[id(task)] * self.horizon
        return {first + t: (t * times if times else 1.0) for t in range(self.horizon)}

    def _rows(self) -> Iterator[Row]:
        yield from self._orders()
        hits = [task for task in self.tasks if task.visit is not None]
        for press in self.shop.presses:
            here = [task for task in hits if task.visit.setting.press == press.name]
            yield from self._press(press, here)
        yield from self._people()

    def _orders(self) -> Iterator[Row]:
        for chain in self.chains:
            if chain:
                yield from self._not_before(chain[0], chain[0].after)
                yield {**self._begins(chain[-1], times=1), self.end: -1.0}, -chain[-1].lasts
            for before, task in pairwise(chain):
                yield from self._follows(before, task)

    def _not_before(self, task: _Task, seconds: float) -> Iterator[Row]:
        yield {n: 1.0 for t, n in enumerate(self._begins(task)) if t < seconds}, 0.0

    def _follows(self, before: _Task, task: _Task) -> Iterator[Row]:
        """Where this one has begun, the one before it has begun so much earlier."""
        firsts, starts = list(self._begins(before)), list(self._begins(task))
        for t in range(self.horizon):
            begun = dict.fromkeys(firsts[: max(0, t - before.lasts - task.after + 1)], -1.0)
            yield {**begun, **dict.fromkeys(starts[: t + 1], 1.0)}, 0.0

    def _press(self, press: Press, hits: list[_Task]) -> Iterator[Row]:
        yield from self._counted([(hit, Span(0, hit.lasts)) for hit in hits], [1.0] * self.horizon)
        for hit in hits:
            stands_s = press.change_s(press.temperature_c, hit.visit.setting.temperature_c)
            yield from self._not_before(hit, press.free_s + stands_s)
        for first, second in permutations(hits, 2):
            if first.visit.setting != second.visit.setting:
                yield from self._apart(press, first, second)

    def _apart(self, press: Press, first: _Task, second: _Task) -> Iterator[Row]:
        """Where the first begins at t, the second does not begin before it is off and the heat is changed."""
        heats = (task.visit.setting.temperature_c for task in (first, second))
        gap = first.lasts + int(press.change_s(*heats))
        starts, others = list(self._begins(first)), list(self._begins(second))
        for t in range(self.horizon):
            yield {starts[t]: 1.0, **dict.fromkeys(others[t : t + gap], 1.0)}, 1.0

    def _people(self) -> Iterator[Row]:
        bound = [sum(span.start_s <= t < span.end_s for span in self.shop.taken) for t in range(self.horizon)]
        hands = [(task, hand) for task in self.tasks for hand in task.hands]
        yield from self._counted(hands, [self.shop.people - many for many in bound])

    def _counted(self, spans: list[tuple[_Task, Span]], most: list[float]) -> Iterator[Row]:
        """At each second, no more of the tasks' spans than `most`."""
        for second in range(self.horizon):
            row: dict[int, float] = {}
            for task, span in spans:
                starts = list(self._begins(task))
                for t in range(max(0, second - int(span.end_s) + 1), second - int(span.start_s) + 1):
                    row[starts[t]] = row.get(starts[t], 0.0) + 1.0
            yield row, most[second]


def _tasks(visits: tuple[Visit, ...], ready_s: float, is_off: bool) -> Iterator[_Task]:
    after = int(ready_s)
    for n, visit in enumerate(visits):
        if n or not is_off:
            lasts = int(visit.on_press_s)
            hands = (Span(0, visit.lay_s), Span(lasts - visit.off_s, lasts))
            yield _Task(lasts, hands, after, visit)
            after = int(visit.rest_s)
        yield _Task(int(visit.finish_s), (Span(0, visit.finish_s),), after)
        after = 0


def distinct(shop: Shop) -> Shop:
    """The same shop, but no two garments are alike: each ends at a press of its own, for no time."""
    presses = tuple(Press(f"nowhere {n}") for n in range(len(shop.garments)))
    garments = tuple(
        replace(garment, visits=(*garment.visits, _nothing(garment.visits[-1], press.name)))
        for garment, press in zip(shop.garments, presses, strict=True)
    )
    return replace(shop, presses=(*shop.presses, *presses), garments=garments)


def _nothing(visit: Visit, press: str) -> Visit:
    return Visit(replace(visit.setting, press=press), 0, 0, 0)
