"""Every different way to put the platen on one side: which boxes it touches, and which lie wholly under it.

The platen's corner lies on whole mm. Along one axis, what it touches and holds changes at few corners only;
between two of them lies a band of corners that all do the same. A spot is a band across times a band down.
Sets of boxes are bits of an integer: bit k stands for box k.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise, product
from typing import NamedTuple

from models.geometry import SAME_MM, Box, Point
from models.job.job import Press

ALL = -1  # the set of all boxes, however many
Span = tuple[float, float]  # from, to, along one axis [mm]


@dataclass(frozen=True, slots=True)
class Band:
    """Corners from `first` to `last`, along one axis, that touch, hold and meet the same."""

    first: int
    last: int
    touched: int
    held: int
    metal: int

    def nearest(self, wanted: float) -> int:
        return min(max(round(wanted), self.first), self.last)


class Spot(NamedTuple):
    """All corners in a band across and a band down; `press` is the number of the press whose platen it is.

    A side has thousands of them, and a tuple is made in a third of the time.
    """

    across: Band
    down: Band
    touched: int
    held: int
    press: int = 0

    def corner_near(self, corner: Point) -> tuple[int, int]:
        return (self.across.nearest(corner[0]), self.down.nearest(corner[1]))


def spots(
    boxes: Sequence[Box], metal: Sequence[Box], presses: Sequence[Press], wanted: int = ALL
) -> tuple[Spot, ...]:
    """The spots of each press's platen that hold a wanted box at least and touch no metal."""
    return tuple(
        spot
        for number, press in enumerate(presses)
        for spot in _spots_of(number, (press.platen_width_mm, press.platen_height_mm), boxes, metal, wanted)
    )


def _spots_of(
    press: int, platen: tuple[float, float], boxes: Sequence[Box], metal: Sequence[Box], wanted: int
) -> Iterator[Spot]:
    across = _bands([_across(box) for box in boxes], [_across(box) for box in metal], platen[0])
    down = _bands([_down(box) for box in boxes], [_down(box) for box in metal], platen[1])
    for x, y in product(across, down):
        if x.held & y.held & wanted and not x.metal & y.metal:
            yield Spot(x, y, x.touched & y.touched, x.held & y.held, press)


def _across(box: Box) -> Span:
    return (box.x, box.right)


def _down(box: Box) -> Span:
    return (box.y, box.bottom)


def _bands(spans: Sequence[Span], metal: Sequence[Span], length_mm: float) -> list[Band]:
    firsts = sorted({corner for span in (*spans, *metal) for corner in _changes(span, length_mm)})
    bands = [
        Band(
            first,
            following - 1,
            touched=_touched(spans, first, first + length_mm),
            held=_held(spans, first, first + length_mm),
            metal=_touched(metal, first, first + length_mm),
        )
        for first, following in pairwise(firsts)
    ]
    return [band for band in bands if band.held]


def _touched(spans: Sequence[Span], start: float, end: float) -> int:
    return sum(1 << k for k, (a, b) in enumerate(spans) if min(b, end) - max(a, start) > SAME_MM)


def _held(spans: Sequence[Span], start: float, end: float) -> int:
    return sum(1 << k for k, (a, b) in enumerate(spans) if start <= a + SAME_MM and b <= end + SAME_MM)


def _changes(span: Span, length_mm: float) -> tuple[int, int, int, int]:
    """The corners from which on the platen touches, holds, no longer holds, no longer touches."""
    start, end = span
    return (
        math.floor(start - length_mm + SAME_MM) + 1,
        math.ceil(end - length_mm - SAME_MM),
        math.floor(start + SAME_MM) + 1,
        math.ceil(end - SAME_MM),
    )
