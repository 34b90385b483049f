"""A temperature over time, as a screen draws it. What works one out is in models.heat.estimates.sampling."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class CurvePoint:
    """One moment of an estimate: about eight of ten garments should lie between low and high."""

    at_s: float
    low_c: float
    likely_c: float
    high_c: float


Curve = tuple[CurvePoint, ...]
