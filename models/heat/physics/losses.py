"""What the two faces of a warm garment lose to the room, by where it rests."""

from dataclasses import dataclass

import numpy as np

from models.heat.physics.convection import (
    SPREAD,
    Array,
    level_w_per_m2k,
    radiated_w_per_m2,
    upright_w_per_m2k,
)
from models.ranges import Range
from models.recipe.places import Place

EMISSIVITY = Range(0.75, 0.90, 0.95)
"""Cloth 0.75-0.95, paper 0.92-0.97 (Incropera, Table A.11, from memory)."""
TABLE_W_PER_M2K = Range(4, 10, 20)
"""What a wooden table takes from a cloth that lies on it (from memory, no source)."""


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

    def upper_loss_w_per_m2(self, face_c: Array, haste: float) -> Array:
        """Heat that the upper face gives off at these temperatures.

        `haste` above 0 leans to a quick loss, below 0 to a slow one.
        """
        radiated = radiated_w_per_m2(face_c, self.room_c, EMISSIVITY.at(haste))
        spread = SPREAD.at(2 * haste)  # published correlations differ by all of it, not by half
        return np.asarray(self._convected_w_per_m2(face_c) * spread + radiated)

    def lower_loss_w_per_m2(self, face_c: Array, haste: float) -> Array:
        """The same of the lower face. On the press the pad below is as hot as the cloth and takes nothing."""
        if self.place == Place.HUNG:
            return self.upper_loss_w_per_m2(face_c, haste)
        if self.place == Place.PRESS:
            return np.zeros_like(face_c)
        return np.asarray(TABLE_W_PER_M2K.at(haste) * (face_c - self.room_c))

    def _convected_w_per_m2(self, face_c: Array) -> Array:
        if self.place == Place.HUNG:
            coefficient = upright_w_per_m2k(face_c, self.room_c, self.height_m)
        else:
            coefficient = level_w_per_m2k(face_c, self.room_c, self.level_length_m)
        return np.asarray(coefficient * (face_c - self.room_c))
