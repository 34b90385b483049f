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
class Grid:
    """The cells of all layers, top to bottom, with what lies between them."""

    half_m2k_per_w: Array
    capacity_j_per_m2k: Array
    start_c: Array
    between: Array  # conductance between neighbours, the two outer faces included [W/m²K]
    last_cell: tuple[int, ...]  # of each layer
    top: Face
    bottom: Face

    def source_w_per_m2(self) -> Array:
        """What the two outer faces give to the cells beside them."""
        source = np.zeros_like(self.start_c)
        source[0] += self.between[0] * self.top.held_c
        source[-1] += self.between[-1] * self.bottom.held_c
        return source


@dataclass(frozen=True, slots=True, eq=False)
class History:
    """Temperatures over time: a row for each of `times_s`, a column for each cell, top to bottom."""

    times_s: Array
    cells_c: Array
    grid: Grid

    def upper_face_c(self, layer: int) -> Array:
        """Temperature of the layer's upper face at each time [°C]."""
        first = self.grid.last_cell[layer - 1] + 1 if layer else 0
        return np.asarray(self.cells_c[:, first] + self.flux_into(first) * self.grid.half_m2k_per_w[first])

    def lower_face_c(self, layer: int) -> Array:
        """Temperature of the layer's lower face at each time [°C]."""
        last = self.grid.last_cell[layer]
        return np.asarray(self.cells_c[:, last] - self.flux_into(last + 1) * self.grid.half_m2k_per_w[last])

    def cells_of(self, layers: range) -> Array:
        """The cells of these layers alone, top to bottom, at each time [°C]."""
        first = self.grid.last_cell[layers[0] - 1] + 1 if layers[0] else 0
        return self.cells_c[:, first : self.grid.last_cell[layers[-1]] + 1].copy()

    def stored_j_per_m2(self) -> Array:
        """Heat taken up by all layers since the start, at each time."""
        return np.asarray((self.cells_c - self.grid.start_c) @ self.grid.capacity_j_per_m2k)

    def flux_into(self, cell: int) -> Array:
        """Heat that runs down into a cell, or out of the last one, at each time [W/m²]."""
        above = self.cells_c[:, cell - 1] if cell else self.grid.top.held_c
        below = self.cells_c[:, cell] if cell < self.cells_c.shape[1] else self.grid.bottom.held_c
        return np.asarray((above - below) * self.grid.between[cell])


def conduct(layers: Sequence[Layer], top: Face, bottom: Face, seconds: float, *, finer: int = 1) -> History:
    """The temperatures of `layers`, top to bottom, for `seconds`; `finer` divides cells and steps.

    Raises:
        CalculationError: no layers or no time, or a layer that has no thickness or conducts or holds nothing.
    """
    (history,) = conduct_each([layers], top, bottom, seconds, finer=finer)
    return history


def conduct_each(
    stacks: Sequence[Sequence[Layer]], top: Face, bottom: Face, seconds: float, *, finer: int = 1
) -> list[History]:
    """As `conduct`, of several stacks side by side: they share the steps, and so most of the work."""
    for layers in stacks:
        _refuse_impossible(layers, seconds)
    grids = [grid_of(layers, CELLS * finer, top, bottom) for layers in stacks]
    lengths_s = tuple(_step_lengths(seconds, FIRST_STEP_S / finer, STEPS_A_LEVEL * finer))
    times_s = np.concatenate(([0.0], np.cumsum(lengths_s)))
    cells_c = _march(grids, lengths_s)
    ends = np.cumsum([len(grid.start_c) for grid in grids])[:-1]
    return [
        History(times_s, of_one, grid)
        for of_one, grid in zip(np.split(cells_c, ends, axis=1), grids, strict=True)
    ]


def _refuse_impossible(layers: Sequence[Layer], seconds: float) -> None:
    if not layers or seconds <= 0:
        raise CalculationError("heat needs at least one layer and some time to run through it")
    for layer in layers:
        if min(layer.thickness_m, layer.conductivity_w_per_mk, layer.heat_j_per_m3k) <= 0:
            raise CalculationError(f"{layer.name}: thickness, conductivity and heat capacity must be above 0")


def grid_of(
    layers: Sequence[Layer], cells: int = CELLS, top: Face = INSULATED, bottom: Face = INSULATED
) -> Grid:
    """The cells of these layers, so many for each that is thin."""
    widths = [_widths(layer.thickness_m, cells) for layer in layers]
    counts = [len(of_layer) for of_layer in widths]
    width = np.concatenate(widths)

    def of_cells(values: list[float]) -> Array:
        return np.repeat(values, counts)

    half = width / 2 / of_cells([layer.conductivity_w_per_mk for layer in layers])
    contact = np.zeros(len(width) + 1)
    contact[np.cumsum([0, *counts[:-1]])] = [layer.contact_m2k_per_w for layer in layers]
    above = np.concatenate(([top.resistance_m2k_per_w], half))
    below = np.concatenate((half, [bottom.resistance_m2k_per_w]))
    return Grid(
        half_m2k_per_w=half,
        capacity_j_per_m2k=width * of_cells([layer.heat_j_per_m3k for layer in layers]),
        start_c=of_cells([layer.start_c for layer in layers]),
        between=1.0 / (above + below + contact),
        last_cell=tuple(int(end) - 1 for end in np.cumsum(counts)),
        top=top,
        bottom=bottom,
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


def _march(grids: Sequence[Grid], lengths_s: Sequence[float]) -> Array:
    """All cells of all grids at the start and after each step; nothing runs from one grid into the next."""
    capacity = np.concatenate([grid.capacity_j_per_m2k for grid in grids])
    drain = np.concatenate([grid.between[:-1] + grid.between[1:] for grid in grids])
    beside = np.concatenate([np.append(grid.between[1:-1], 0.0) for grid in grids])[:-1]
    source = np.concatenate([grid.source_w_per_m2() for grid in grids])
    cells_c = np.empty((len(lengths_s) + 1, len(capacity)))
    cells_c[0] = now = np.concatenate([grid.start_c for grid in grids])
    factored_for = 0.0
    for n, step_s in enumerate(lengths_s, start=1):
        if step_s != factored_for:
            factored_for = step_s
            factors = factored(capacity, drain, beside, step_s)
        cells_c[n] = now = after_step(now, capacity, factors, source * (SHARE * step_s))
    return cells_c


def factored(capacity: Array, drain: Array, beside: Array, step_s: float) -> tuple[Array, Array]:
    """The matrix that both stages of a step share: `drain` is what leads out of each cell, `beside` what
    leads from each to the next [W/m²K].
    """
    weight = SHARE * step_s
    diagonal, below, _ = dpttrf(capacity + weight * drain, -weight * beside)
    return diagonal, below


def after_step(now_c: Array, capacity: Array, factors: tuple[Array, Array], given_j_per_m2: Array) -> Array:
    """The cells after one step. The trapezoidal stage ends at 2 middle - now: a backward Euler step of half
    its length, drawn out.
    """
    middle_c, _ = dpttrs(*factors, capacity * now_c + given_j_per_m2)
    drawn = capacity / (1 - GAMMA) * (middle_c - GAMMA * now_c)
    return np.asarray(dpttrs(*factors, drawn + given_j_per_m2)[0])
