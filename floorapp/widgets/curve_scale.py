"""From seconds and °C to pixels on a plot, its ticks, and where its levels are named. No Kivy here."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor

from floorapp.widget_views import CurveView
from models.geometry import Box, Point
from models.heat.estimates.curves import CurvePoint

NICE = (1, 2, 5, 10, 15, 20, 30, 60, 120, 300, 600, 1_200, 3_600)
"""Steps that a person counts in, seconds as well as degrees."""
FROM_C = 20.0
HEADROOM_C = 8.0
LEAST_S = 1.0


@dataclass(frozen=True, slots=True)
class CurveScale:
    """`plot` is where the curve is drawn [px, lower left corner]."""

    plot: Box
    seconds: float
    lowest_c: float
    highest_c: float

    @classmethod
    def fitting(cls, view: CurveView, plot: Box) -> "CurveScale":
        """All of the curve and of its levels, from room temperature up."""
        tops = [*(point.high_c for point in view.points), *(level.at_c for level in view.levels)]
        bottoms = (FROM_C, *(point.low_c for point in view.points))
        return cls(plot, max(LEAST_S, view.points[-1].at_s), min(bottoms), max(tops) + HEADROOM_C)

    def to_px(self, at_s: float, at_c: float) -> Point:
        across = at_s / self.seconds
        up = (at_c - self.lowest_c) / (self.highest_c - self.lowest_c)
        return (self.plot.x + across * self.plot.width, self.plot.y + up * self.plot.height)

    def likely_px(self, points: tuple[CurvePoint, ...]) -> list[Point]:
        return [self.to_px(point.at_s, point.likely_c) for point in points]

    def band_px(self, points: tuple[CurvePoint, ...]) -> list[Point]:
        """The outline of what lies between low and high."""
        over = [self.to_px(point.at_s, point.high_c) for point in points]
        under = [self.to_px(point.at_s, point.low_c) for point in points]
        return [*over, *reversed(under)]

    def hatching(self, points: tuple[CurvePoint, ...], step_px: float) -> list[list[Point]]:
        """Upright lines across the band, `step_px` apart."""
        lines, following = [], self.plot.x + step_px
        for before, after in pairwise(points):
            while (share := self._share(before, after, following)) <= 1 and following < self.plot.right:
                low_c = before.low_c + share * (after.low_c - before.low_c)
                high_c = before.high_c + share * (after.high_c - before.high_c)
                at_s = before.at_s + share * (after.at_s - before.at_s)
                lines.append([self.to_px(at_s, low_c), self.to_px(at_s, high_c)])
                following += step_px
        return lines

    def _share(self, before: CurvePoint, after: CurvePoint, x: float) -> float:
        """How far between two moments the pixel column `x` lies; above 1 where it lies after both."""
        left, right = (self.to_px(point.at_s, self.lowest_c)[0] for point in (before, after))
        return (x - left) / (right - left) if right > left else float("inf")


def ticks(lowest: float, highest: float, most: int) -> list[float]:
    """Round numbers from lowest to highest, in the smallest nice step that takes `most` at most."""
    step = next((step for step in NICE if (highest - lowest) / step <= most), NICE[-1])
    return [float(step * k) for k in range(ceil(lowest / step), floor(highest / step) + 1)]


def level_plates(scale: CurveScale, view: CurveView, sizes: Sequence[Point], gap_px: float) -> list[Box]:
    """Where the name of each level stands, of these sizes [px]: on its line, one beside the other.

    From the left, the level that is passed first leading, what ends before the likely curve comes near; what
    does not, from the right, where the curve is past it.
    """
    nears = [
        _near_px(scale, view, level.at_c, size[1] / 2 + gap_px)
        for level, size in zip(view.levels, sizes, strict=True)
    ]
    lefts: dict[int, float] = {}
    from_left, others = scale.plot.x + gap_px, []
    for k in sorted(range(len(sizes)), key=lambda k: nears[k]):
        end = from_left + sizes[k][0] + gap_px
        if end <= nears[k]:
            lefts[k], from_left = from_left, end
        else:
            others.append(k)
    from_right = scale.plot.right
    for k in reversed(others):
        from_right -= gap_px + sizes[k][0]
        lefts[k] = from_right
    return [
        Box(lefts[k], scale.to_px(0, level.at_c)[1] - sizes[k][1] / 2, *sizes[k])
        for k, level in enumerate(view.levels)
    ]


def _near_px(scale: CurveScale, view: CurveView, at_c: float, half_px: float) -> float:
    """Where the likely curve first comes within `half_px` of a temperature; the end where it does not."""
    half_c = half_px * (scale.highest_c - scale.lowest_c) / scale.plot.height
    falls = view.points[-1].likely_c < view.points[0].likely_c
    near = (p for p in view.points if (p.likely_c <= at_c + half_c if falls else p.likely_c >= at_c - half_c))
    return scale.to_px(next(near, view.points[-1]).at_s, at_c)[0]
