"""The courses of a temperature, sampled in as many points as a screen can draw."""

import numpy as np
from numpy.typing import NDArray

from models.heat.estimates.curves import Curve, CurvePoint

Array = NDArray[np.float64]
Course = tuple[Array, Array]
"""Rising times [s] and the temperatures that belong to them [°C]."""

POINTS = 60


def curve_of(seconds: float, quick: Course, likely: Course, slow: Course) -> Curve:
    """From 0 to `seconds`, evenly in time. What is quick at first may be slow later, so the ends change."""
    at_s = np.linspace(0.0, seconds, POINTS)
    cases_c = np.array([np.interp(at_s, *course) for course in (quick, likely, slow)])
    columns = (at_s, cases_c.min(axis=0), cases_c[1], cases_c.max(axis=0))
    return tuple(CurvePoint(*row) for row in zip(*(column.tolist() for column in columns), strict=True))
