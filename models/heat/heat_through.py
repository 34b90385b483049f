"""One stack under the platen: when its adhesive is up to heat, and how hot the rest of it gets."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from models.heat.conduction import INSULATED, Array, Face, History, conduct
from models.heat.ranges import Case, Estimate
from models.heat.stack import ROOM_C, Role, Stack
from models.job.job import Material

HORIZON_S = 90.0
"""Beyond it a stack counts as one that never gets up to heat: no dwell is longer."""

TO_HEAT_SHARE = 0.8
"""Adhesives flow well below the platen's setting: up to heat is this share of the way from the room to the
lowest setting that the material takes, about 120 °C for one that takes 145 (common practice, no source)."""

Curve = tuple[tuple[float, float], ...]
"""(seconds, °C) from the start on."""

Reading = Callable[[History], Array]
"""One temperature over time, out of a history."""

CURVE_STEP_S = 0.25
NEVER_S = float("inf")


@dataclass(frozen=True, slots=True, eq=False)
class HeatThrough:
    """How one stack warms, in its three cases, up to HORIZON_S."""

    stack: Stack
    histories: dict[Case, History]

    def seconds_to(self, target_c: float) -> Estimate:
        """When the adhesive's lower face reaches `target_c`; infinite where it does not within HORIZON_S."""
        quick, likely, slow = (self._seconds_to(target_c, case) for case in Case)
        return Estimate(quick, likely, slow)

    def curve(self, seconds: float) -> Curve:
        """The adhesive's likely temperature from the closing to the opening."""
        history = self.histories[Case.LIKELY]
        at_s = np.append(np.arange(0.0, seconds, CURVE_STEP_S), seconds)
        warming_c = np.interp(at_s, history.times_s, history.lower_face_c(self.stack.adhesive))
        return tuple(zip(at_s.tolist(), warming_c.tolist(), strict=True))

    def far_side_c(self, seconds: float) -> Estimate:
        """Temperature of the fabric's lower face when the press opens."""
        return self._at(seconds, lambda history: history.lower_face_c(self.stack.cloth))

    def garment_c(self, seconds: float) -> Estimate:
        """Temperature that the garment evens out to when the press opens after `seconds`."""
        return self._at(seconds, lambda history: history.mean_c(self.stack.garment))

    def lower_adhesives_c(self, seconds: float) -> dict[str, Estimate]:
        """How hot the adhesives of the pieces below get again, by material key."""
        lower = range(self.stack.adhesive + 1, len(self.stack.sheets))
        return {
            self.stack.sheets[place].material: self._at(seconds, _face_reader(place))
            for place in lower
            if self.stack.sheets[place].role == Role.ADHESIVE
        }

    def _seconds_to(self, target_c: float, case: Case) -> float:
        history = self.histories[case]
        warming_c = history.lower_face_c(self.stack.adhesive)
        if warming_c[-1] < target_c:
            return NEVER_S
        return float(np.interp(target_c, np.maximum.accumulate(warming_c), history.times_s))

    def _at(self, seconds: float, reading: Reading) -> Estimate:
        quick, likely, slow = (
            float(np.interp(seconds, history.times_s, reading(history)))
            for history in (self.histories[case] for case in Case)
        )
        return Estimate(min(quick, likely, slow), likely, max(quick, likely, slow))


def to_heat_c(material: Material) -> float:
    """The temperature from which the material's adhesive is taken to flow [°C]."""
    return ROOM_C + TO_HEAT_SHARE * (material.lowest_c - ROOM_C)


@lru_cache(maxsize=256)
def heat_through(stack: Stack) -> HeatThrough:
    """The stack under its platen for HORIZON_S, in each of its cases; pieces of one stack are worked once."""
    platen, table = Face(stack.platen_c), INSULATED
    return HeatThrough(stack, {case: conduct(stack.layers(case), platen, table, HORIZON_S) for case in Case})


def _face_reader(place: int) -> Reading:
    return lambda history: history.lower_face_c(place)
