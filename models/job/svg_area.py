"""The area within a drawing's paths: curves as chords, holes by the fill rule.

Colours and line widths play no part: the outline is what the paths enclose.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from io import BytesIO
from typing import Any

import svgelements as svg
from shapely import LinearRing, Polygon, STRtree, get_parts, polygonize, union_all
from shapely.geometry.base import BaseGeometry

from models.geometry import Point, Ring
from models.job.fault_list import UnreadableError
from models.job.files import WHOLE_FILE

CHORD_ERROR_MM = 0.05
"""How far a chord may run beside its curve, once the drawing has its width."""

HIDDEN = {"hidden", "collapse"}


def area_in(content: bytes, width_mm: float) -> BaseGeometry:
    """The area of a drawing that svg_safety let pass, in the drawing's own units, y down.

    `width_mm` says how wide it will be, and so how fine the chords have to be.

    Raises UnreadableError for paths that cannot be read, cross themselves or enclose nothing.
    """
    paths = _paths(content)
    boxes = [box for box in (path.bbox() for path in paths) if box is not None]
    if not boxes or not all(math.isfinite(value) for box in boxes for value in box):
        raise UnreadableError("draws no outline", "draw a closed path", WHOLE_FILE)
    drawn_width = max(box[2] for box in boxes) - min(box[0] for box in boxes)
    chord_error = CHORD_ERROR_MM * drawn_width / width_mm
    if chord_error == 0:
        raise _no_area()
    area = union_all([_filled(path, chord_error) for path in paths])
    if area.area == 0:
        raise _no_area()
    return area


def _no_area() -> UnreadableError:
    return UnreadableError("encloses no area", "draw a closed path", WHOLE_FILE)


def _paths(content: bytes) -> list[Any]:
    """Every shape as a path, all transforms worked in."""
    try:
        drawing = svg.SVG.parse(BytesIO(content), on_error="raise")
        shapes = [shape for shape in drawing.elements() if isinstance(shape, svg.Shape)]
        return [abs(svg.Path(shape)) for shape in shapes if shape.values.get("visibility") not in HIDDEN]
    except (ValueError, TypeError, ArithmeticError, AttributeError, LookupError, RecursionError):
        # what the library makes of broken numbers depends on where they stand
        raise UnreadableError(
            "has a path that cannot be read", "save the drawing again", WHOLE_FILE
        ) from None


def _filled(path: Any, chord_error: float) -> BaseGeometry:
    rings = list(_rings(path, chord_error))
    if not all(Polygon(ring).is_valid for ring in rings):
        raise UnreadableError(
            "the outline crosses itself", "draw it so that its edge meets itself nowhere", _told(path)
        )
    return _by_rule(rings, even_odd=path.values.get("fill-rule") == "evenodd")


def _by_rule(rings: Sequence[Ring], *, even_odd: bool) -> BaseGeometry:
    """The faces that the rings cut the plane into, those that are filled joined.

    A face counts each ring around it, +1 or -1 by the ring's direction; it is filled where the sum is not 0,
    or, even-odd, where the number of rings is odd (SVG 1.1, fill-rule).
    """
    if not rings:
        return Polygon()
    faces = get_parts(polygonize([union_all([LinearRing(ring) for ring in rings])]))
    inside = [face.representative_point() for face in faces]
    windings = [0] * len(inside)
    ring_of, face_of = STRtree(inside).query([Polygon(ring) for ring in rings], predicate="contains").tolist()
    for ring, face in zip(ring_of, face_of, strict=True):
        windings[face] += 1 if even_odd or LinearRing(rings[ring]).is_ccw else -1
    filled = [winding % 2 == 1 if even_odd else winding != 0 for winding in windings]
    return union_all([face for face, is_filled in zip(faces, filled, strict=True) if is_filled])


def _rings(path: Any, chord_error: float) -> Iterator[Ring]:
    for subpath in path.as_subpaths():
        ring = _without_repeats(list(_points(subpath, chord_error)), chord_error / 1000)
        if len(ring) >= 3 and LinearRing(ring).convex_hull.area > chord_error**2:  # a stroke encloses nothing
            yield ring


def _points(segments: Iterable[Any], chord_error: float) -> Iterator[Point]:
    for segment in segments:
        steps = _steps(segment, chord_error)
        for step in range(1, steps + 1):
            point = segment.end if step == steps else segment.point(step / steps)
            yield (float(point.x), float(point.y))


def _without_repeats(points: Sequence[Point], same: float) -> Ring:
    """No point twice in a row, and not the first again at the end."""
    ring: list[Point] = []
    for point in points:
        if not ring or math.dist(point, ring[-1]) > same:
            ring.append(point)
    while len(ring) > 1 and math.dist(ring[0], ring[-1]) <= same:
        ring.pop()
    return tuple(ring)


def _steps(segment: Any, chord_error: float) -> int:
    """How many chords keep within `chord_error` of the segment."""
    match segment:
        case svg.Arc():
            radius, sweep = float(max(segment.rx, segment.ry)), abs(float(segment.sweep))
            half_angle = math.acos(max(-1.0, 1 - chord_error / radius))
            return max(1, math.ceil(sweep / (2 * half_angle)))
        case svg.CubicBezier(start=a, control1=b, control2=c, end=d):
            return _steps_of_curve(6 * max(_bend(a, b, c), _bend(b, c, d)), chord_error)
        case svg.QuadraticBezier(start=a, control=b, end=c):
            return _steps_of_curve(2 * _bend(a, b, c), chord_error)
        case _:
            return 1


def _bend(a: Any, b: Any, c: Any) -> float:
    return math.hypot(a.x - 2 * b.x + c.x, a.y - 2 * b.y + c.y)


def _steps_of_curve(second_derivative: float, chord_error: float) -> int:
    """A chord over a step h runs at most h² max|f''| / 8 beside the curve (linear interpolation's bound)."""
    return max(1, math.ceil(math.sqrt(second_derivative / (8 * chord_error))))


def _told(path: Any) -> str:
    return f'<path id="{path.id}">' if path.id else WHOLE_FILE
