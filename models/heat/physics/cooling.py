"""How hot layers cool from both faces: by implicit steps as in `conduction`, from any profile.

What a face loses depends on its temperature, and not in proportion to it. In each step the loss follows its
tangent at the face's temperature, so that a step still is one linear system and of second order. A thick
garment is uneven while it cools, so its hottest cell is what counts: from a Biot number of 0.1 on no body
may be taken as even (F. P. Incropera et al., Fundamentals of Heat and Mass Transfer, section 5.2). Accuracy
with the cells and steps used here: times within 1 % of the refined ones (tests/models/heat/test_cooling.py).
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from models.errors import CalculationError
from models.heat.physics.conduction import SHARE, Array, Grid, after_step, factored

FIRST_STEP_S = 0.05
STEPS_A_LEVEL = 8
LONGEST_S = 86_400.0
"""What is not cool after a day never will be."""
LISTED_C = np.arange(-50.0, 601.0)
"""Losses are worked out at these temperatures and taken as straight between them."""

Loss = Callable[[Array], Array]
"""Heat that a face gives off at these temperatures [W/m²]."""


@dataclass(frozen=True, slots=True, eq=False)
class HotBody:
    """Layers as hot as the grid's start, whose upper and lower face lose heat."""

    grid: Grid
    upper_loss: Loss
    lower_loss: Loss


@dataclass(frozen=True, slots=True, eq=False)
class Cooling:
    """One course of cooling: rising times, and how hot the hottest place of the body is by then."""

    times_s: Array
    hottest_c: Array

    def seconds_to(self, target_c: float) -> float:
        """When no place is hotter than `target_c`; 0 where none is from the start.

        Raises:
            CalculationError: the course ends before it is that cool.
        """
        if target_c < self.hottest_c[-1]:
            raise CalculationError(f"in this room the garment does not cool to {target_c:.0f} °C")
        return float(np.interp(-target_c, -np.minimum.accumulate(self.hottest_c), self.times_s))


def cool_each(bodies: Sequence[HotBody], lowest_c: float, *, finer: int = 1) -> list[Cooling]:
    """The courses of all bodies, side by side, until none is hotter than `lowest_c`.

    `finer` divides the steps.

    Raises:
        CalculationError: one of them does not get that cool, or is too hot to begin with.
    """
    march = _March(bodies)
    times_s, hottest_c = [0.0], [march.hottest_c]
    for step_s in _step_lengths(finer):
        if hottest_c[-1].max() <= lowest_c:
            return [Cooling(np.array(times_s), course_c) for course_c in np.array(hottest_c).T]
        march.go_on(step_s)
        times_s.append(times_s[-1] + step_s)
        hottest_c.append(march.hottest_c)
    raise CalculationError(f"in this room the garment does not cool to {lowest_c:.0f} °C")


def _step_lengths(finer: int) -> Iterator[float]:
    """Steps that double after every so many, for a day."""
    passed_s, step_s = 0.0, FIRST_STEP_S / finer
    while passed_s < LONGEST_S:
        yield from (step_s for _ in range(STEPS_A_LEVEL * finer))
        passed_s += STEPS_A_LEVEL * finer * step_s
        step_s *= 2


class _March:
    """The cells of all bodies one after the other, as hot as they are now; nothing runs between bodies."""

    def __init__(self, bodies: Sequence[HotBody]) -> None:
        grids = [body.grid for body in bodies]
        self._capacity = np.concatenate([grid.capacity_j_per_m2k for grid in grids])
        self._within = np.concatenate(
            [np.concatenate(([0.0], grid.between[1:-1])) for grid in grids] + [np.zeros(1)]
        )
        self._cells_c = np.concatenate([grid.start_c for grid in grids])
        counts = np.cumsum([0, *(len(grid.start_c) for grid in grids)])
        self._first = counts[:-1]
        self._outer = np.column_stack((counts[:-1], counts[1:] - 1)).ravel()
        self._half = np.concatenate([grid.half_m2k_per_w for grid in grids])[self._outer]
        self._faces_c = self._cells_c[self._outer]
        self._losses = _losses(bodies)
        if self._cells_c.max() >= LISTED_C[-1] or self._cells_c.min() <= LISTED_C[0]:
            raise CalculationError(f"no garment cools from {self._cells_c.max():.0f} °C")

    @property
    def hottest_c(self) -> Array:
        """Of each body."""
        return np.maximum.reduceat(self._cells_c, self._first)

    def go_on(self, step_s: float) -> None:
        """By one step, in which each face loses along its tangent, through half of its outer cell."""
        loss, slope = self._tangents()
        narrowed = 1 + self._half * slope
        drain = self._within[:-1] + self._within[1:]
        drain[self._outer] += slope / narrowed
        given = np.zeros_like(drain)
        given[self._outer] = (slope * self._faces_c - loss) / narrowed * (SHARE * step_s)
        factors = factored(self._capacity, drain, self._within[1:-1], step_s)
        self._cells_c = after_step(self._cells_c, self._capacity, factors, given)
        outer_c = self._cells_c[self._outer]
        lost = (loss + slope * (outer_c - self._faces_c)) / narrowed
        self._faces_c = outer_c - lost * self._half

    def _tangents(self) -> tuple[Array, Array]:
        """What each face loses, and how much more of it for each degree."""
        place = (self._faces_c - LISTED_C[0]).astype(int)
        row = np.arange(len(place))
        below = self._losses[row, place]
        slope = self._losses[row, place + 1] - below
        return below + slope * (self._faces_c - LISTED_C[place]), slope


def _losses(bodies: Sequence[HotBody]) -> Array:
    """A row for each face, a column for each of LISTED_C, which stand one degree apart."""
    return np.array([loss(LISTED_C) for body in bodies for loss in (body.upper_loss, body.lower_loss)])
