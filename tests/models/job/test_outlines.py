"""Outlines to shapely and back."""

from shapely import GeometryCollection, LineString, Point
from shapely import Polygon as Area

from models.geometry import Outline, Polygon
from models.job.outlines import from_shapely, to_shapely

SQUARE = ((0.0, 0.0), (0.0, 10.0), (10.0, 10.0), (10.0, 0.0))
HOLE = ((2.0, 2.0), (4.0, 2.0), (4.0, 4.0), (2.0, 4.0))
APART = ((20.0, 0.0), (20.0, 5.0), (25.0, 5.0))


def test_an_outline_of_several_shapes_with_holes_comes_back_as_it_was():
    outline = Outline((Polygon(SQUARE, (HOLE,)), Polygon(APART)))
    assert from_shapely(to_shapely(outline)) == outline


def test_a_hole_is_no_area():
    assert to_shapely(Outline((Polygon(SQUARE, (HOLE,)),))).area == 100 - 4


def test_lines_and_points_are_left_out():
    mixed = GeometryCollection([LineString([(0, 0), (9, 9)]), Point(1, 1), Area(SQUARE)])
    assert from_shapely(mixed) == Outline((Polygon(SQUARE),))
