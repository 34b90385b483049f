"""A drawing's curves as chords.

Curves are cut into chords as they are written, and then each point is transformed: an arc that a transform
slants is no longer an arc of the same kind.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

import svgelements as svg

from models.geometry import Point, Ring

LARGEST = 1e9
"""Larger numbers, and what is no number at all, are slips: no drawing is a thousand kilometres wide."""

ROUGH_STEPS = 8
"""Chords of a curve when only the drawing's size is asked."""


def rough_extent(path: Any) -> list[Point]:
    """Points on the path; they spread at most as far as it does, and nearly so."""
    return [
        _transformed(segment.point(n / ROUGH_STEPS), path)
        for segment in _drawn(path)
        for n in range(ROUGH_STEPS + 1)
    ]


def rings_of(path: Any, chord_error: float) -> Iterator[Ring]:
    """The path's subpaths, each closed, unclosed ones too, as filling does; no chord is off by more."""
    written_error = chord_error / (_largest_stretch(path.transform) or 1)
    for segments in _subpaths(path):
        points = [_transformed(point, path) for point in _points(segments, written_error)]
        ring = _without_repeats(points, chord_error / 1000)
        if len(ring) >= 3:
            yield ring


def chords_of(path: Any, chord_error: float) -> int:
    """How many chords `rings_of` would make of the path."""
    written_error = chord_error / (_largest_stretch(path.transform) or 1)
    return sum(_steps(segment, written_error) for segment in _drawn(path))


def is_readable(path: Any) -> bool:
    """Whether all its points are there, and within bounds: broken path data leaves some without."""
    points = [point for segment in _drawn(path) for point in (segment.start, segment.end, *segment)]
    if any(point is None or point.x is None or point.y is None for point in points):
        return False
    matrix = path.transform
    numbers = [value for point in points for value in (point.x, point.y)]
    numbers += [matrix.a, matrix.b, matrix.c, matrix.d, matrix.e, matrix.f]
    return all(abs(number) <= LARGEST for number in numbers)


def _segments(path: Any) -> list[Any]:
    return list(path.segments(transformed=False))


def _drawn(path: Any) -> list[Any]:
    return [segment for segment in _segments(path) if not isinstance(segment, svg.Move)]


def _subpaths(path: Any) -> list[list[Any]]:
    """What is drawn between the moves; a line right after a close begins another, where the close ended."""
    subpaths: list[list[Any]] = [[]]
    for segment in _segments(path):
        if isinstance(segment, svg.Move):
            subpaths.append([])
        else:
            subpaths[-1].append(segment)
        if isinstance(segment, svg.Close):
            subpaths.append([])
    return [subpath for subpath in subpaths if subpath]


def _points(segments: Sequence[Any], chord_error: float) -> Iterator[Any]:
    yield segments[0].start
    for segment in segments:
        steps = _steps(segment, chord_error)
        for step in range(1, steps):
            yield segment.point(step / steps)
        yield segment.end


def _transformed(point: Any, path: Any) -> Point:
    x, y = path.transform.point_in_matrix_space(point)
    return (float(x), float(y))


def _without_repeats(points: Iterable[Point], same: float) -> Ring:
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
            return _steps_of_arc(float(max(segment.rx, segment.ry)), abs(float(segment.sweep)), chord_error)
        case svg.CubicBezier(start=a, control1=b, control2=c, end=d):
            return _steps_of_curve(6 * max(_bend(a, b, c), _bend(b, c, d)), chord_error)
        case svg.QuadraticBezier(start=a, control=b, end=c):
            return _steps_of_curve(2 * _bend(a, b, c), chord_error)
        case _:
            return 1


def _steps_of_arc(radius: float, sweep: float, chord_error: float) -> int:
    """A chord of angle a runs r (1 - cos(a/2)) inside a circle, and no more inside a flatter ellipse."""
    if radius == 0:
        return 1
    half_angle = math.acos(max(-1.0, 1 - chord_error / radius))
    return max(1, math.ceil(sweep / (2 * half_angle)))


def _steps_of_curve(second_derivative: float, chord_error: float) -> int:
    """A chord over a step h runs at most h² max|f''| / 8 beside the curve (linear interpolation's bound)."""
    return max(1, math.ceil(math.sqrt(second_derivative / (8 * chord_error))))


def _bend(a: Any, b: Any, c: Any) -> float:
    return math.hypot(a.x - 2 * b.x + c.x, a.y - 2 * b.y + c.y)


def _largest_stretch(matrix: Any) -> float:
    """At least the factor by which the matrix lengthens anything: its Frobenius norm."""
    return math.hypot(matrix.a, matrix.b, matrix.c, matrix.d)
