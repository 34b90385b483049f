"""One stack under the platen: when its adhesive is up to heat, and how hot the rest of it gets."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from models.heat.estimates.curves import Curve
from models.heat.estimates.sampling import curve_of
from models.heat.layup.stack import ROOM_C, Role, Stack
from models.heat.physics.conduction import INSULATED, Array, Face, History, conduct_each
from models.job.job import Material
from models.ranges import Case, Estimate
from models.recipe.heat_finding import NEVER_S

HORIZON_S = 300.0
"""A stack that is not up to heat by then counts as one that never is."""

TO_HEAT_SHARE = 0.8
"""Adhesives flow well below the platen's setting: up to heat is this share of the way from the room to the
lowest setting that the material takes, about 120 °C for one that takes 145 (common practice, no source)."""


@dataclass(frozen=True, slots=True, eq=False)
class Warming:
    """What is read off one case of a stack, each over `times_s` [°C]."""

    times_s: Array
    adhesive_c: Array
    far_side_c: Array
    garment_c: Array  # a column for each cell that leaves the press with the garment, top to bottom
    lower_adhesives_c: tuple[Array, ...]

    def seconds_to(self, target_c: float) -> float:
        if self.adhesive_c[-1] < target_c:
            return NEVER_S
        return float(np.interp(target_c, np.maximum.accumulate(self.adhesive_c), self.times_s))

    def at(self, seconds: float, course_c: Array) -> float:
        return float(np.interp(seconds, self.times_s, course_c))

    def cells_at(self, seconds: float) -> Array:
        """The garment's cells then, straight between two steps."""
        after = int(np.searchsorted(self.times_s[1:-1], seconds)) + 1
        share = np.interp(seconds, self.times_s[after - 1 : after + 1], (0.0, 1.0))
        before_c, after_c = self.garment_c[after - 1 : after + 1]
        return np.asarray(before_c + share * (after_c - before_c))


@dataclass(frozen=True, slots=True, eq=False)
class HeatThrough:
    """How one stack warms, up to HORIZON_S: quick, likely and slow."""

    stack: Stack
    quick: Warming
    likely: Warming
    slow: Warming

    def seconds_to(self, target_c: float) -> Estimate:
        """When the adhesive's lower face reaches `target_c`; infinite where it does not within HORIZON_S."""
        return Estimate(*(case.seconds_to(target_c) for case in (self.quick, self.likely, self.slow)))

    def curve(self, seconds: float) -> Curve:
        """The adhesive's temperature from the closing to the opening."""
        quick, likely, slow = (
            (case.times_s, case.adhesive_c) for case in (self.quick, self.likely, self.slow)
        )
        return curve_of(seconds, quick, likely, slow)

    def far_side_c(self, seconds: float) -> Estimate:
        """Temperature of the fabric's lower face when the press opens."""
        return self._at(seconds, self.quick.far_side_c, self.likely.far_side_c, self.slow.far_side_c)

    def garment_c(self, seconds: float) -> tuple[Array, Array, Array]:
        """The garment's cells when the press opens after `seconds`: at their coolest, likely, hottest."""
        cases_c = [case.cells_at(seconds) for case in (self.quick, self.likely, self.slow)]
        return np.min(cases_c, axis=0), cases_c[1], np.max(cases_c, axis=0)

    def lower_adhesives_c(self, seconds: float) -> tuple[tuple[str, Estimate], ...]:
        """How hot the adhesives of the pieces below get again, with their materials, the upper one first."""
        cases = (self.quick.lower_adhesives_c, self.likely.lower_adhesives_c, self.slow.lower_adhesives_c)
        materials = (self.stack.sheets[place].material for place in _lower_adhesives(self.stack))
        return tuple(
            (material, self._at(seconds, *courses))
            for material, courses in zip(materials, zip(*cases, strict=True), strict=True)
        )

    def _at(self, seconds: float, quick_c: Array, likely_c: Array, slow_c: Array) -> Estimate:
        """What is quick for the adhesive may be slow for what lies below it, so the ends are put in order."""
        quick = self.quick.at(seconds, quick_c)
        likely = self.likely.at(seconds, likely_c)
        slow = self.slow.at(seconds, slow_c)
        return Estimate(min(quick, likely, slow), likely, max(quick, likely, slow))


def to_heat_c(material: Material) -> float:
    """The temperature from which the material's adhesive is taken to flow [°C]."""
    return ROOM_C + TO_HEAT_SHARE * (material.lowest_c - ROOM_C)


@lru_cache(maxsize=256)
def heat_through(stack: Stack) -> HeatThrough:
    """The stack under its platen, in each of its cases; a stack that comes again is not worked again."""
    return HeatThrough(stack, *_warmings(stack, Case.QUICK, Case.LIKELY, Case.SLOW))


@lru_cache(maxsize=256)
def likely_seconds_to(stack: Stack, target_c: float) -> float:
    """When the adhesive likely reaches `target_c`, where its band is not asked for."""
    (warming,) = _warmings(stack, Case.LIKELY)
    return warming.seconds_to(target_c)


def _warmings(stack: Stack, *cases: Case) -> list[Warming]:
    """The pad below is so thick that little reaches its lower face within a minute under the press."""
    layers = [stack.layers(case) for case in cases]
    histories = conduct_each(layers, Face(stack.platen_c), INSULATED, HORIZON_S)
    return [_read(stack, history) for history in histories]


def _read(stack: Stack, history: History) -> Warming:
    return Warming(
        times_s=history.times_s,
        adhesive_c=history.lower_face_c(stack.adhesive),
        far_side_c=history.lower_face_c(stack.cloth),
        garment_c=history.cells_of(stack.garment),
        lower_adhesives_c=tuple(history.lower_face_c(place) for place in _lower_adhesives(stack)),
    )


def _lower_adhesives(stack: Stack) -> list[int]:
    lower = range(stack.adhesive + 1, len(stack.sheets))
    return [place for place in lower if stack.sheets[place].role == Role.ADHESIVE]
