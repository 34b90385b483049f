"""Numbers that are only known within a range, and estimates with their band."""

from dataclasses import dataclass
from enum import Enum

from models.errors import CalculationError


@dataclass(frozen=True, slots=True)
class Range:
    """A property's likely value between its lowest and highest; the unit stands in the name it is given.

    Raises:
        CalculationError: the three values do not stand in order, or one of them is below 0.
    """

    low: float
    likely: float
    high: float

    def __post_init__(self) -> None:
        if not 0 <= self.low <= self.likely <= self.high:
            raise CalculationError(f"{self.low}, {self.likely}, {self.high} is no range: put them in order")

    def at(self, level: float) -> float:
        """The value `level` of the way to the high end, or to the low end where it is negative; 0 is likely.

        >>> Range(1.0, 2.0, 6.0).at(0.5), Range(1.0, 2.0, 6.0).at(-0.5)
        (4.0, 1.5)
        """
        end = self.high if level > 0 else self.low
        return self.likely + abs(level) * (end - self.likely)

    def scaled(self, factor: float) -> "Range":
        return Range(self.low * factor, self.likely * factor, self.high * factor)


def exactly(value: float) -> Range:
    """A number that the job file states."""
    return Range(value, value, value)


class Case(Enum):
    """One way the properties may fall: all of them half way to the end that makes it quicker, or slower.

    Half way, because about four properties matter as much as each other: chances that are independent add
    up like the sides of a right angle, and the four of them reach half as far as all their ends together.
    """

    QUICK = 0.5
    LIKELY = 0.0
    SLOW = -0.5


@dataclass(frozen=True, slots=True)
class Estimate:
    """A computed number with its band: about eight of ten garments should fall between low and high."""

    low: float
    median: float
    high: float

    def plus(self, more: float) -> "Estimate":
        return Estimate(self.low + more, self.median + more, self.high + more)
