"""Shapes of a job file as areas: sized in mm, turned clockwise, placed on their side."""

import math

from shapely import Polygon, box
from shapely.affinity import rotate, scale, translate
from shapely.geometry.base import BaseGeometry

from models.geometry import Point, Ring
from models.job.fault_list import UnreadableError
from models.job.schema import ShapeEntry
from models.job.si import Si

CIRCLE_ERROR_MM = 0.04
"""How far a circle's chords may run inside it; its four outermost points are exact, and so is its box."""

NO_AREA_MM2 = 1e-6


def area_of(shape: ShapeEntry, drawing: BaseGeometry | None, at: Point, turn: float, si: Si) -> BaseGeometry:
    """The area [mm] that a shape covers, its middle at `at`, turned by `turn` degrees clockwise.

    A polygon's points are relative to `at`; a drawing is sized to its width and centred by its box; then all
    turn about `at`. `drawing` is the area of the shape's SVG.

    Raises UnreadableError for an outline that crosses itself or has no area.
    """
    upright = _upright(shape, drawing, si)
    _judge(upright)
    turned = upright if shape.circle is not None else rotate(upright, turn, origin=(0, 0))
    return translate(turned, at[0], at[1])


def _upright(shape: ShapeEntry, drawing: BaseGeometry | None, si: Si) -> BaseGeometry:
    """The shape as if `at` were the origin, before its turn."""
    if shape.circle is not None:
        return Polygon(_circle(si.mm(shape.circle) / 2))
    if shape.box is not None:
        half_width, half_height = (si.mm(length) / 2 for length in shape.box)
        return box(-half_width, -half_height, half_width, half_height)
    if shape.polygon is not None:
        return Polygon([(si.mm(x), si.mm(y)) for x, y in shape.polygon])
    assert drawing is not None
    assert shape.width is not None
    return _sized(drawing, si.mm(shape.width))


def _sized(drawing: BaseGeometry, width_mm: float) -> BaseGeometry:
    left, top, right, bottom = drawing.bounds
    centred = translate(drawing, -(left + right) / 2, -(top + bottom) / 2)
    factor = width_mm / (right - left)
    return scale(centred, factor, factor, origin=(0, 0))


def _circle(radius_mm: float) -> Ring:
    """Corners on the circle, a multiple of four from its rightmost point on.

    A chord of angle a runs r (1 - cos(a/2)) inside the circle.
    """
    share = max(-1.0, 1 - CIRCLE_ERROR_MM / radius_mm)
    corners = 4 * math.ceil(math.pi / math.acos(share) / 4)
    angles = [math.tau * n / corners for n in range(corners)]
    return tuple((radius_mm * math.cos(angle), radius_mm * math.sin(angle)) for angle in angles)


def _judge(area: BaseGeometry) -> None:
    if area.convex_hull.area < NO_AREA_MM2:
        raise UnreadableError("the outline has no area", "draw one that encloses something")
    if not area.is_valid:
        raise UnreadableError("the outline crosses itself", "draw it so that its edge meets itself nowhere")
