"""Outlines as shapely geometry and back: for areas in common, carriers, turning and checking."""

from collections.abc import Iterator

from shapely import MultiPolygon, get_parts
from shapely import Polygon as ShapelyPolygon
from shapely.coords import CoordinateSequence
from shapely.geometry.base import BaseGeometry

from models.geometry import Outline, Polygon, Ring


def to_shapely(outline: Outline) -> MultiPolygon:
    """The outline's area [mm]."""
    return MultiPolygon([ShapelyPolygon(part.exterior, part.holes) for part in outline.polygons])


def from_shapely(area: BaseGeometry) -> Outline:
    """The outline of an area [mm]; lines and points in it, which have no area, are left out."""
    return Outline(
        tuple(
            Polygon(_ring(part.exterior.coords), tuple(_ring(hole.coords) for hole in part.interiors))
            for part in _polygons(area)
        )
    )


def _polygons(area: BaseGeometry) -> Iterator[ShapelyPolygon]:
    for part in get_parts(area):
        if isinstance(part, ShapelyPolygon):
            yield part
        elif isinstance(part, MultiPolygon):
            yield from part.geoms


def _ring(coords: CoordinateSequence) -> Ring:
    """Unclosed: shapely repeats the first point at the end."""
    return tuple((float(x), float(y)) for x, y in coords)[:-1]
