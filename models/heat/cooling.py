"""How a pressed garment cools: as one sheet of even temperature that loses heat from both faces.

The losses depend on the temperature alone, so the time to each temperature is an integral over it: no steps
in time. Valid for: sheets thin and light enough to even out faster than they cool (Biot number well below 1).
Source: F. P. Incropera et al., Fundamentals of Heat and Mass Transfer, lumped capacitance.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from models.errors import CalculationError
from models.heat.convection import SPREAD, Array, level_w_per_m2k, radiated_w_per_m2, upright_w_per_m2k
from models.heat.places import Place
from models.heat.ranges import Range

EMISSIVITY = Range(0.75, 0.90, 0.95)
"""Cloth 0.75-0.95, paper 0.92-0.97 (Incropera, Table A.11, from memory)."""
TABLE_W_PER_M2K = Range(4, 10, 20)
"""What a wooden table takes from a cloth that lies on it (from memory, no source)."""
POINTS = 400


@dataclass(frozen=True, slots=True)
class Surroundings:
    """The air and what the garment lies on; the pressed area decides how the air rises along it."""

    place: Place
    room_c: float
    width_m: float
    height_m: float

    @property
    def level_length_m(self) -> float:
        """Area / perimeter."""
        return self.width_m * self.height_m / (2 * (self.width_m + self.height_m))


@dataclass(frozen=True, slots=True, eq=False)
class Cooling:
    """One course of cooling: rising times and the falling temperatures that belong to them."""

    times_s: Array
    cloth_c: Array

    def seconds_to(self, target_c: float) -> float:
        """When the garment has cooled to `target_c`; 0 where it is no warmer from the start.

        Raises:
            CalculationError: it never gets that cool, for the room is no cooler.
        """
        if target_c < self.cloth_c[-1]:
            raise CalculationError(f"in this room the garment does not cool to {target_c:.0f} °C")
        return float(np.interp(-target_c, -self.cloth_c, self.times_s))


def cool_down(
    start_c: float, lowest_c: float, capacity_j_per_m2k: float, loss_w_per_m2: Callable[[Array], Array]
) -> Cooling:
    """From `start_c` down to `lowest_c`, at which the loss has to be above 0; at once where it is no warmer.

    Raises:
        CalculationError: the garment stops losing heat on the way.
    """
    if start_c <= lowest_c:
        return Cooling(np.zeros(1), np.full(1, start_c))
    cloth_c = np.linspace(start_c, lowest_c, POINTS)
    loss = loss_w_per_m2(cloth_c)
    if not np.all(loss > 0):
        raise CalculationError(f"in this room the garment does not cool to {lowest_c:.0f} °C")
    seconds_a_degree = capacity_j_per_m2k / loss
    steps_s = -np.diff(cloth_c) * (seconds_a_degree[:-1] + seconds_a_degree[1:]) / 2
    return Cooling(np.concatenate(([0.0], np.cumsum(steps_s))), cloth_c)


def loss_w_per_m2(cloth_c: Array, around: Surroundings, haste: float) -> Array:
    """Heat lost by both faces together; `haste` above 0 leans to a quick loss, below 0 to a slow one.

    Left on the press, the pad below is as hot as the cloth and takes nothing.
    """
    radiated = radiated_w_per_m2(cloth_c, around.room_c, EMISSIVITY.at(haste))
    above_room = cloth_c - around.room_c
    spread = SPREAD.at(2 * haste)  # published correlations differ by all of it, not by half
    if around.place == Place.HUNG:
        face = upright_w_per_m2k(cloth_c, around.room_c, around.height_m) * spread * above_room
        return np.asarray(2 * (face + radiated))
    face = level_w_per_m2k(cloth_c, around.room_c, around.level_length_m) * spread * above_room
    below = TABLE_W_PER_M2K.at(haste) * above_room if around.place == Place.TABLE else 0.0
    return np.asarray(face + radiated + below)
