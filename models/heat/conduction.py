"""Heat that runs through flat layers in one direction, over time.

Finite volumes in space, TR-BDF2 in time: second order, and damped at once where a hot face meets a cold one.
Both stages of a step share one symmetric tridiagonal matrix, factored by LAPACK's pttrf. Steps start short
and double as the change slows. Accuracy with the cells and steps used here: within 0.2 K of the refined
answer for the stacks of a heat press, once 0.2 s have passed (tests/models/heat/test_conduction.py).

Sources: R. E. Bank et al., IEEE Transactions on Computer-Aided Design 4 (1985) 436-451, for TR-BDF2;
S. V. Patankar, Numerical Heat Transfer and Fluid Flow (1980), for resistances between unlike volumes.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.linalg.lapack import dpttrf, dpttrs

from models.errors import CalculationError

Array = NDArray[np.float64]

GAMMA = 2 - math.sqrt(2)
"""Where in a step the trapezoidal stage ends: here both stages have the same matrix."""
SHARE = GAMMA / 2
FIRST_STEP_S = 0.005
CELLS = 6
STEPS_A_LEVEL = 14
THIN_M = 1.5e-3
GROWTH = 1.25
"""In a layer thicker than THIN_M the cells grow by this much, one after the other, away from the heat."""


@dataclass(frozen=True, slots=True)
class Layer:
    """One flat layer; `contact_m2k_per_w` is the resistance to what lies above it."""

    name: str
    thickness_m: float
    conductivity_w_per_mk: float
    heat_j_per_m3k: float
    start_c: float
    contact_m2k_per_w: float = 0.0


@dataclass(frozen=True, slots=True)
class Face:
    """What an outer face meets: a temperature held behind a resistance; without end, it is insulated."""

    held_c: float
    resistance_m2k_per_w: float = 0.0


INSULATED = Face(0.0, math.inf)


@dataclass(frozen=True, slots=True, eq=False)
class _Grid:
    """The cells of all layers: half resistances, contacts above each, heat capacities and start."""

    half_m2k_per_w: Array
    contact_m2k_per_w: Array
    capacity_j_per_m2k: Array
    start_c: Array
    last_cell: tuple[int, ...]  # of each layer

    def conductance(self, top: Face, bottom: Face) -> Array:
        """Between neighbours, the two outer faces included [W/m²K]."""
        above = np.concatenate(([top.resistance_m2k_per_w], self.half_m2k_per_w))
        below = np.concatenate((self.half_m2k_per_w, [bottom.resistance_m2k_per_w]))
        return np.asarray(1.0 / (above + below + np.concatenate((self.contact_m2k_per_w, [0.0]))))


@dataclass(frozen=True, slots=True, eq=False)
class History:
    """Temperatures over time: a row for each of `times_s`, a column for each cell, top to bottom."""

    times_s: Array
    cells_c: Array
    grid: _Grid
    flux_between: Array
    top: Face
    bottom: Face

    def upper_face_c(self, layer: int) -> Array:
        """Temperature of the layer's upper face at each time [°C]."""
        first = self.grid.last_cell[layer - 1] + 1 if layer else 0
        return np.asarray(self.cells_c[:, first] + self.flux_into(first) * self.grid.half_m2k_per_w[first])

    def lower_face_c(self, layer: int) -> Array:
        """Temperature of the layer's lower face at each time [°C]."""
        last = self.grid.last_cell[layer]
        return np.asarray(self.cells_c[:, last] - self.flux_into(last + 1) * self.grid.half_m2k_per_w[last])

    def mean_c(self, layers: range) -> Array:
        """Temperature that these layers would even out to, at each time [°C]."""
        first = self.grid.last_cell[layers[0] - 1] + 1 if layers[0] else 0
        cells = slice(first, self.grid.last_cell[layers[-1]] + 1)
        capacity = self.grid.capacity_j_per_m2k[cells]
        return np.asarray(self.cells_c[:, cells] @ capacity / capacity.sum())

    def stored_j_per_m2(self) -> Array:
        """Heat taken up by all layers since the start, at each time."""
        return np.asarray((self.cells_c - self.grid.start_c) @ self.grid.capacity_j_per_m2k)

    def flux_into(self, cell: int) -> Array:
        """Heat that runs down into a cell, or out of the last one, at each time [W/m²]."""
        above = self.cells_c[:, cell - 1] if cell else self.top.held_c
        below = self.cells_c[:, cell] if cell < self.cells_c.shape[1] else self.bottom.held_c
        return np.asarray((above - below) * self.flux_between[cell])


def conduct(layers: Sequence[Layer], top: Face, bottom: Face, seconds: float, *, finer: int = 1) -> History:
    """The temperatures of `layers`, top to bottom, for `seconds`; `finer` divides cells and steps.

    Raises:
        CalculationError: no layers or no time, or a layer that has no thickness or conducts or holds nothing.
    """
    _refuse_impossible(layers, seconds)
    grid = _grid(layers, CELLS * finer)
    between = grid.conductance(top, bottom)
    source = np.zeros_like(grid.start_c)
    source[0] += between[0] * top.held_c
    source[-1] += between[-1] * bottom.held_c
    lengths_s = tuple(_step_lengths(seconds, FIRST_STEP_S / finer, STEPS_A_LEVEL * finer))
    cells_c = _march(grid, between, source, lengths_s)
    times_s = np.concatenate(([0.0], np.cumsum(lengths_s)))
    return History(times_s, cells_c, grid, between, top, bottom)


def _refuse_impossible(layers: Sequence[Layer], seconds: float) -> None:
    if not layers or seconds <= 0:
        raise CalculationError("heat needs at least one layer and some time to run through it")
    for layer in layers:
        if min(layer.thickness_m, layer.conductivity_w_per_mk, layer.heat_j_per_m3k) <= 0:
            raise CalculationError(f"{layer.name}: thickness, conductivity and heat capacity must be above 0")


def _grid(layers: Sequence[Layer], cells: int) -> _Grid:
    widths = [_widths(layer.thickness_m, cells) for layer in layers]
    counts = [len(of_layer) for of_layer in widths]
    contact = np.zeros(sum(counts))
    contact[np.cumsum([0, *counts[:-1]])] = [layer.contact_m2k_per_w for layer in layers]

    def of_cells(values: Iterator[float]) -> Array:
        return np.repeat(np.fromiter(values, float), counts)

    width = np.concatenate(widths)
    return _Grid(
        half_m2k_per_w=width / 2 / of_cells(layer.conductivity_w_per_mk for layer in layers),
        contact_m2k_per_w=contact,
        capacity_j_per_m2k=width * of_cells(layer.heat_j_per_m3k for layer in layers),
        start_c=of_cells(layer.start_c for layer in layers),
        last_cell=tuple(int(end) - 1 for end in np.cumsum(counts)),
    )


def _widths(thickness_m: float, cells: int) -> Array:
    """Equal cells; in a thick layer more of them, which grow downwards from a thin layer's size."""
    if thickness_m <= THIN_M:
        return np.full(cells, thickness_m / cells)
    growth = GROWTH ** (CELLS / cells)
    first_m = THIN_M / 2 / cells
    count = math.ceil(math.log1p(thickness_m * (growth - 1) / first_m) / math.log(growth))
    shares = growth ** np.arange(count)
    return np.asarray(thickness_m * shares / shares.sum())


def _step_lengths(seconds: float, first_s: float, a_level: int) -> Iterator[float]:
    """Steps that double after every so many; the last level is cut evenly, to end on the second."""
    left_s, step_s = seconds, first_s
    while left_s > step_s * a_level:
        yield from (step_s for _ in range(a_level))
        left_s -= step_s * a_level
        step_s *= 2
    count = math.ceil(left_s / step_s - 1e-9)
    yield from (left_s / count for _ in range(count))


def _march(grid: _Grid, between: Array, source: Array, lengths_s: Sequence[float]) -> Array:
    capacity = grid.capacity_j_per_m2k
    cells_c = np.empty((len(lengths_s) + 1, len(capacity)))
    cells_c[0] = now = grid.start_c
    factored_for = 0.0
    for n, step_s in enumerate(lengths_s, start=1):
        weight = SHARE * step_s
        if step_s != factored_for:
            diagonal, beside, _ = dpttrf(
                capacity + weight * (between[:-1] + between[1:]), -weight * between[1:-1]
            )
            given, factored_for = weight * source, step_s
        half, _ = dpttrs(diagonal, beside, capacity * now + given)
        middle = 2 * half - now  # the trapezoidal stage is a backward Euler half step, drawn out to twice
        known = (middle - (1 - GAMMA) ** 2 * now) / (GAMMA * (2 - GAMMA))
        now, _ = dpttrs(diagonal, beside, capacity * known + given)
        cells_c[n] = now
    return cells_c
