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
from models.planning.problem.bitset import bits_of

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

    def betters(self, other: "Band", spared: int = 0) -> bool:
        """Whether it holds all that the other holds, and no more of the `spared` boxes, touches no more, and
        comes down on no more metal.
        """
        more = self.touched & ~other.touched or self.metal & ~other.metal or other.held & ~self.held
        return not (more or self.held & ~other.held & spared)


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


@dataclass(frozen=True, slots=True)
class Grid:
    """The bands across and down of one press's platen."""

    press: int
    across: Sequence[Band]
    down: Sequence[Band]

    def spots(self, wanted: int = ALL) -> Iterator[Spot]:
        """Those that hold a wanted box at least and touch no metal."""
        for x, y in product(self.across, self.down):
            if x.held & y.held & wanted and not x.metal & y.metal:
                yield Spot(x, y, x.touched & y.touched, x.held & y.held, self.press)

    def holding(self, boxes: int) -> "Grid":
        """The bands that hold all of these boxes."""
        return Grid(self.press, _holding(boxes, self.across), _holding(boxes, self.down))

    def unbettered(self, spared: int = 0) -> "Grid":
        """The bands that no other one betters: far fewer, and soon found."""
        return Grid(self.press, _unbettered(self.across, spared), _unbettered(self.down, spared))


def grids(boxes: Sequence[Box], metal: Sequence[Box], presses: Sequence[Press]) -> tuple[Grid, ...]:
    """The grid of each press, in their order."""
    return tuple(
        Grid(
            number,
            _bands([_across(box) for box in boxes], [_across(box) for box in metal], press.platen_width_mm),
            _bands([_down(box) for box in boxes], [_down(box) for box in metal], press.platen_height_mm),
        )
        for number, press in enumerate(presses)
    )


def spots(
    boxes: Sequence[Box], metal: Sequence[Box], presses: Sequence[Press], wanted: int
) -> tuple[Spot, ...]:
    """The spots of each press's platen that hold a wanted box at least and touch no metal."""
    return tuple(spot for grid in grids(boxes, metal, presses) for spot in grid.spots(wanted))


def _holding(boxes: int, bands: Sequence[Band]) -> list[Band]:
    return [band for band in bands if not boxes & ~band.held]


def _unbettered(bands: Sequence[Band], spared: int) -> list[Band]:
    kept: list[Band] = []
    for band in sorted(bands, key=lambda b: (-b.held.bit_count(), b.touched.bit_count(), b.first)):
        if not any(other.betters(band, spared) for other in kept):
            kept.append(band)
    return sorted(kept, key=lambda band: band.first)


def _across(box: Box) -> Span:
    return (box.x, box.right)


def _down(box: Box) -> Span:
    return (box.y, box.bottom)


def _bands(spans: Sequence[Span], metal: Sequence[Span], length_mm: float) -> list[Band]:
    """Those that hold some box, in order."""
    touching = [_touching(span, length_mm) for span in spans]
    holding = [_holding_it(span, length_mm) for span in spans]
    on_metal = [_touching(span, length_mm) for span in metal]
    changes = {corner for c in (*touching, *holding, *on_metal) for corner in (c.start, c.stop)}
    return [
        Band(first, following - 1, _among(touching, first), _among(holding, first), _among(on_metal, first))
        for first, following in pairwise(sorted(changes))
        if _among(holding, first)
    ]


def _among(corners: Sequence[range], corner: int) -> int:
    return bits_of(k for k, of_box in enumerate(corners) if corner in of_box)


def _touching(span: Span, length_mm: float) -> range:
    """The corners from which on the platen touches it, until it no longer does."""
    start, end = span
    return range(math.floor(start - length_mm + SAME_MM) + 1, math.ceil(end - SAME_MM))


def _holding_it(span: Span, length_mm: float) -> range:
    """The corners from which on the platen holds it; none where it is longer than the platen."""
    start, end = span
    return range(math.ceil(end - length_mm - SAME_MM), math.floor(start + SAME_MM) + 1)
