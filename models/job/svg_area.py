"""The area within a drawing's paths: holes by the fill rule, what lies over each other joined.

Colours and line widths play no part: the outline is what the paths enclose.
"""

from collections.abc import Sequence
from io import BytesIO
from itertools import chain
from typing import Any

import svgelements as svg
from shapely import LinearRing, Polygon, STRtree, union_all
from shapely.geometry.base import BaseGeometry

from models.geometry import Ring
from models.job.fault_list import UnreadableError
from models.job.files import WHOLE_FILE
from models.job.svg_curves import chords_of, is_readable, rings_of, rough_extent
from models.job.svg_rings import faces_of, simple_rings

CHORD_ERROR_MM = 0.05
"""How far a chord may run beside its curve, once the drawing has its width."""

NARROWEST = 1e-6
"""Narrower drawings, in their own units, are strokes straight down."""

MAX_RINGS = 500
"""Rings may all cross each other, and the crossings are as many as their square."""

MAX_CHORDS = 200_000
"""A curve that is very long for the drawing's width would take thousands of millions of them."""

ROUNDING = 1 / 1000
"""Of a drawing's width: by so much its saved numbers may be off."""

HIDDEN = {"hidden", "collapse"}


def area_in(content: bytes, width_mm: float) -> BaseGeometry:
    """The area of a drawing that svg_safety let pass, in the drawing's own units, y down.

    `width_mm` says how wide it will be, and so how fine the chords have to be.

    Raises UnreadableError for paths that cannot be read, cross themselves or enclose nothing.
    """
    paths = _paths(content)
    drawn_width = _width(paths)
    if drawn_width < NARROWEST:
        raise _no_area()
    chord_error = CHORD_ERROR_MM * drawn_width / width_mm
    if sum(chords_of(path, chord_error) for path in paths) > MAX_CHORDS:
        wrong = f"has curves that take more than {MAX_CHORDS:,} chords"
        raise UnreadableError(wrong, "look for points that lie very far out, or simplify it", WHOLE_FILE)
    narrow = max(chord_error, ROUNDING * drawn_width)
    area = union_all([_filled(path, chord_error, narrow) for path in paths])
    if area.area == 0:
        raise _no_area()
    return area


def _no_area() -> UnreadableError:
    return UnreadableError("encloses no area", "draw a closed path", WHOLE_FILE)


def _paths(content: bytes) -> list[Any]:
    """Every shape that shows as a path, its transform not yet worked in."""
    try:
        drawing = svg.SVG.parse(BytesIO(content), reify=False, on_error="raise")
        shapes = [shape for shape in drawing.elements() if isinstance(shape, svg.Shape)]
        paths = [svg.Path(shape) for shape in shapes if shape.values.get("visibility") not in HIDDEN]
    except (ValueError, TypeError, ArithmeticError, AttributeError, LookupError, RecursionError):
        paths = []  # what the library makes of broken numbers depends on where they stand
        drawing = None
    if drawing is None or not all(is_readable(path) for path in paths):
        raise UnreadableError("has a path that cannot be read", "save the drawing again", WHOLE_FILE)
    return paths


def _width(paths: Sequence[Any]) -> float:
    points = [point for path in paths for point in rough_extent(path)]
    if not points:
        raise UnreadableError("draws no outline", "draw a closed path", WHOLE_FILE)
    across = [x for x, _ in points]
    return max(across) - min(across)


def _filled(path: Any, chord_error: float, narrow: float) -> BaseGeometry:
    rings = [ring for ring in rings_of(path, chord_error) if not _is_stroke(ring, chord_error)]
    place = f'<path id="{path.id}">' if path.id else WHOLE_FILE
    if len(rings) > MAX_RINGS:
        raise UnreadableError(f"one path has more than {MAX_RINGS} rings", "split or simplify it", place)
    simple = [simple_rings(ring, narrow) for ring in rings]
    if not all(simple):
        mend = "draw it so that its edge crosses itself nowhere"
        raise UnreadableError("the outline crosses itself", mend, place)
    return _by_rule(list(chain(*simple)), even_odd=path.values.get("fill-rule") == "evenodd")


def _is_stroke(ring: Ring, chord_error: float) -> bool:
    """A line there and back, which encloses nothing."""
    return bool(LinearRing(ring).convex_hull.area < chord_error**2)


def _by_rule(rings: Sequence[LinearRing], *, even_odd: bool) -> BaseGeometry:
    """The faces that the rings cut the plane into, those that are filled joined.

    A face counts each ring around it, +1 or -1 by the ring's direction; it is filled where the sum is not 0,
    or, even-odd, where the number of rings is odd (SVG 1.1, fill-rule).
    """
    if not rings:
        return Polygon()
    faces = faces_of(rings)
    inside = [face.representative_point() for face in faces]
    windings = [0] * len(inside)
    ring_of, face_of = STRtree(inside).query([Polygon(ring) for ring in rings], predicate="contains").tolist()
    for ring, face in zip(ring_of, face_of, strict=True):
        windings[face] += 1 if even_odd or rings[ring].is_ccw else -1
    filled = [winding % 2 == 1 if even_odd else winding != 0 for winding in windings]
    return union_all([face for face, is_filled in zip(faces, filled, strict=True) if is_filled])
