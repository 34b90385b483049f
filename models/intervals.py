"""How sure a share is that was counted on a few garments: the Wilson score interval."""

import math
from dataclasses import dataclass
from statistics import NormalDist

from models.errors import CalculationError

CONFIDENCE = 0.95


@dataclass(frozen=True, slots=True)
class Interval:
    """A range of shares, each between 0 and 1."""

    low: float
    high: float


def wilson_interval(good: int, of: int, confidence: float = CONFIDENCE) -> Interval:
    """The range in which the true share lies, when `good` out of `of` were counted.

    Source: E. B. Wilson, Journal of the American Statistical Association 22 (1927) 209-212, without
    continuity correction; tabled by R. G. Newcombe, Statistics in Medicine 17 (1998) 857-872.
    Valid for: garments that go well or ill independently of each other.

    Raises:
        CalculationError: nothing was counted, or more good ones than all.

    >>> interval = wilson_interval(10, 14)
    >>> round(interval.low, 3), round(interval.high, 3)
    (0.454, 0.883)
    """
    if not 0 <= good <= of or of == 0:
        raise CalculationError(
            f"{good} of {of} is no share: count at least one, and no more good ones than all"
        )
    z = NormalDist().inv_cdf((1 + confidence) / 2)
    share = good / of
    middle = share + z * z / (2 * of)
    reach = z * math.sqrt(share * (1 - share) / of + z * z / (4 * of * of))
    scale = 1 + z * z / of
    return Interval(max(0.0, (middle - reach) / scale), min(1.0, (middle + reach) / scale))
