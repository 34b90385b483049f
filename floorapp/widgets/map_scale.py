"""From mm on a side to pixels on the screen and back, and which piece a finger means. No Kivy here."""

from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from math import hypot

from floorapp.widget_views import MapView
from models.geometry import Box, Outline, Point, Polygon, Ring
from models.job.job import Side


@dataclass(frozen=True, slots=True)
class MapScale:
    """`left_px` and `top_px` are where the side's origin lies; pixels count upwards, mm downwards."""

    px_per_mm: float
    left_px: float
    top_px: float

    @classmethod
    def fitting(cls, shown: Box, room: Box) -> "MapScale":
        """The largest scale at which `shown` [mm] fits into `room` [px, lower left corner], centred."""
        scale = min(room.width / shown.width, room.height / shown.height)
        left = room.x + (room.width - shown.width * scale) / 2 - shown.x * scale
        top = room.y + (room.height + shown.height * scale) / 2 + shown.y * scale
        return cls(scale, left, top)

    def to_px(self, point: Point) -> Point:
        return (self.left_px + point[0] * self.px_per_mm, self.top_px - point[1] * self.px_per_mm)

    def to_mm(self, point: Point) -> Point:
        return ((point[0] - self.left_px) / self.px_per_mm, (self.top_px - point[1]) / self.px_per_mm)

    def ring_px(self, ring: Ring) -> list[Point]:
        return [self.to_px(point) for point in ring]

    def box_px(self, box: Box) -> Box:
        """The same box in pixels, from its lower left corner."""
        left, bottom = self.to_px((box.x, box.bottom))
        return Box(left, bottom, box.width * self.px_per_mm, box.height * self.px_per_mm)


def shown_box(view: MapView) -> Box:
    """Everything that must be seen: the side, and a platen that hangs over it."""
    boxes = [Box(0, 0, view.side.width_mm, view.side.height_mm), *([view.platen] if view.platen else [])]
    x, y = min(box.x for box in boxes), min(box.y for box in boxes)
    right, bottom = max(box.right for box in boxes), max(box.bottom for box in boxes)
    return Box(x, y, right - x, bottom - y)


def piece_at(view: MapView, point: Point, target_mm: float) -> str | None:
    """The piece that a tap means; `target_mm` is the side of the least target, in mm of the garment.

    The topmost piece under the finger, unless a small one that lies on it is so close that its target covers
    the point. Beside all pieces, the nearest within half a target.
    """
    under = -1
    for k, entry in enumerate(view.pieces):
        if contains(entry.piece.outline, point):
            under = k
    near = [
        (distance(entry.piece.outline, point), k)
        for k, entry in enumerate(view.pieces)
        if k > under and not contains(entry.piece.outline, point)
    ]
    slack = target_mm / 2
    if under >= 0:
        near = [(gap, k) for gap, k in near if gap <= slack - _half_width(view.pieces[k].piece.box)]
    reached = [(gap, k) for gap, k in near if gap <= slack]
    chosen = min(reached)[1] if reached else under
    return view.pieces[chosen].piece.id if chosen >= 0 else None


def contains(outline: Outline, point: Point) -> bool:
    """Whether a point lies in the area, by the even-odd rule."""
    crossings = sum(_crosses(a, b, point) for ring in rings_of(outline) for a, b in edges(ring))
    return crossings % 2 == 1


def distance(outline: Outline, point: Point) -> float:
    """From a point to the nearest edge [mm]."""
    return min(_edge_distance(a, b, point) for ring in rings_of(outline) for a, b in edges(ring))


def rings_of(outline: Outline) -> list[Ring]:
    return [ring for polygon in outline.polygons for ring in (polygon.exterior, *polygon.holes)]


def whole_side(side: Side) -> Outline:
    """The drawn outline of a side, or its box where the job draws none."""
    return side.outline or Outline((Polygon(corners(Box(0, 0, side.width_mm, side.height_mm))),))


def shared_area(a: Box, b: Box) -> float:
    width = min(a.right, b.right) - max(a.x, b.x)
    height = min(a.bottom, b.bottom) - max(a.y, b.y)
    return max(0.0, width) * max(0.0, height)


def corners(box: Box) -> Ring:
    return ((box.x, box.y), (box.right, box.y), (box.right, box.bottom), (box.x, box.bottom))


def edges(ring: Ring) -> list[tuple[Point, Point]]:
    return [*pairwise(ring), (ring[-1], ring[0])]


@lru_cache(maxsize=2_000)
def sign_place(outline: Outline, above: tuple[Outline, ...] = ()) -> tuple[Point, float]:
    """Where a sign fits on a piece, and the radius it may have [mm].

    The middle, or where holes or the pieces `above` cover that, the broadest spot beside them.
    """
    centre = outline.box.centre
    spots = [centre, *_grid(outline.box)] if above or outline.polygons[0].holes else [centre]

    def is_free(spot: Point) -> bool:
        return contains(outline, spot) and not any(contains(cover, spot) for cover in above)

    edges_near = (outline, *above)
    rooms = [(min(distance(edge, spot) for edge in edges_near), spot) for spot in spots if is_free(spot)]
    radius, spot = max(rooms, default=(min(outline.box.width, outline.box.height) / 4, centre))
    return spot, radius


def _grid(box: Box, steps: int = 12) -> list[Point]:
    return [
        (box.x + box.width * (column + 0.5) / steps, box.y + box.height * (row + 0.5) / steps)
        for row in range(steps)
        for column in range(steps)
    ]


def _half_width(box: Box) -> float:
    return min(box.width, box.height) / 2


def _crosses(a: Point, b: Point, point: Point) -> bool:
    """Whether the ray from the point to the right crosses the edge."""
    if (a[1] > point[1]) == (b[1] > point[1]):
        return False
    return point[0] < a[0] + (b[0] - a[0]) * (point[1] - a[1]) / (b[1] - a[1])


def _edge_distance(a: Point, b: Point, point: Point) -> float:
    dx, dy = b[0] - a[0], b[1] - a[1]
    squared = dx * dx + dy * dy
    along = ((point[0] - a[0]) * dx + (point[1] - a[1]) * dy) / squared if squared else 0.0
    share = min(1.0, max(0.0, along))
    return hypot(point[0] - a[0] - share * dx, point[1] - a[1] - share * dy)
