"""Boxes and outlines in mm: origin at the side's top left corner, x to the right, y down."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

Point = tuple[float, float]
Ring = tuple[Point, ...]

SAME_MM = 1e-6
"""Edges nearer than this are one edge: outlines are turned and scaled in floating point."""


@dataclass(frozen=True, slots=True)
class Box:
    """An axis-parallel rectangle [mm]."""

    x: float
    y: float
    width: float
    height: float

    @property
    def right(self) -> float:
        return self.x + self.width

    @property
    def bottom(self) -> float:
        return self.y + self.height

    def moved(self, dx_mm: float, dy_mm: float) -> "Box":
        return Box(self.x + dx_mm, self.y + dy_mm, self.width, self.height)

    @property
    def centre(self) -> Point:
        return (self.x + self.width / 2, self.y + self.height / 2)

    def shares_area_with(self, other: "Box") -> bool:
        """Whether the two rectangles overlap by any area; a shared edge is none."""
        common_width = min(self.right, other.right) - max(self.x, other.x)
        common_height = min(self.bottom, other.bottom) - max(self.y, other.y)
        return common_width > SAME_MM and common_height > SAME_MM

    def holds(self, other: "Box") -> bool:
        """Whether `other` lies wholly inside; touching edges count as inside."""
        return (
            self.x <= other.x + SAME_MM
            and self.y <= other.y + SAME_MM
            and other.right <= self.right + SAME_MM
            and other.bottom <= self.bottom + SAME_MM
        )


@dataclass(frozen=True, slots=True)
class Polygon:
    """One closed shape: its outer ring and the rings of its holes, unclosed (first point not repeated)."""

    exterior: Ring
    holes: tuple[Ring, ...] = ()


@dataclass(frozen=True)
class Outline:
    """The area of one piece: one polygon or several that lie apart."""

    polygons: tuple[Polygon, ...]

    def mapped(self, to: Callable[[Point], Point]) -> "Outline":
        """The outline with every point of it taken to another place."""
        return Outline(
            tuple(
                Polygon(
                    tuple(map(to, polygon.exterior)), tuple(tuple(map(to, hole)) for hole in polygon.holes)
                )
                for polygon in self.polygons
            )
        )

    @cached_property  # asked for at every hit, and an outline of many points is long to measure
    def box(self) -> Box:
        """The axis-parallel bounding box [mm]."""
        xs = [x for polygon in self.polygons for x, _ in polygon.exterior]
        ys = [y for polygon in self.polygons for _, y in polygon.exterior]
        return Box(min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys))
