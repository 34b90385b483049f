"""Lines of any width, whole or dashed, as triangles: plain geometry, without Kivy.

Kivy's own dashes are one pixel wide, and its wide lines have no soft edge without multisampling. Here each
line becomes a band of triangles whose v coordinate runs from 0 to 1 across the band, for a texture that fades
at both edges.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import ceil, hypot

from models.geometry import Point

FADE_PX = 1.0
"""The band is this much wider than the line on both sides; the texture fades there."""
SHARPEST = 2.5
"""A corner's tip reaches out at most this many half widths."""

Path = Sequence[Point]


@dataclass(slots=True)
class Triangles:
    """Vertices as Kivy's Mesh takes them (x, y, u, v, ...) and the indices of its triangles."""

    vertices: list[float] = field(default_factory=list)
    indices: list[int] = field(default_factory=list)


def stroke(paths: Iterable[Path], width_px: float, *, closed: bool = False) -> Triangles:
    """Bands along all `paths`, in one set of triangles."""
    triangles = Triangles()
    for path in paths:
        points = without_repeats(path, closed=closed)
        if len(points) > 1:
            _add_band(triangles, points, width_px / 2 + FADE_PX, closed)
    return triangles


def dashes(path: Path, dash_px: float, gap_px: float, *, closed: bool = False) -> list[list[Point]]:
    """The path cut into dashes; their length is stretched so that a whole number of them fits."""
    points = list(path) + ([path[0]] if closed else [])
    length = sum(hypot(bx - ax, by - ay) for (ax, ay), (bx, by) in pairwise(points))
    if length == 0:
        return []
    gap_at_end = 0.0 if closed else gap_px
    count = max(1, round((length + gap_at_end) / (dash_px + gap_px)))
    stretch = length / (count * (dash_px + gap_px) - gap_at_end)
    dash, period = dash_px * stretch, (dash_px + gap_px) * stretch
    return [_between(points, k * period, min(k * period + dash, length)) for k in range(count)]


def points_along(path: Path, step_px: float) -> list[Point]:
    """Points on the path, no further apart than a step."""
    points: list[Point] = []
    for (ax, ay), (bx, by) in pairwise(path):
        count = max(1, ceil(hypot(bx - ax, by - ay) / step_px))
        points += [(ax + (bx - ax) * k / count, ay + (by - ay) * k / count) for k in range(count)]
    return points


def thinned(path: Path, least_px: float = 1.0) -> list[Point]:
    """The path without points that lie closer than `least_px` to the one before them."""
    kept = [path[0]]
    for x, y in path[1:]:
        if hypot(x - kept[-1][0], y - kept[-1][1]) >= least_px:
            kept.append((x, y))
    return kept if len(kept) > 2 else list(path)


def without_repeats(path: Path, *, closed: bool) -> list[Point]:
    points = [point for before, point in zip([None, *path], path, strict=False) if point != before]
    if closed and len(points) > 1 and points[0] == points[-1]:
        points.pop()
    return points


def _between(points: Path, start: float, end: float) -> list[Point]:
    """The stretch of a path between two distances along it."""
    piece: list[Point] = []
    walked = 0.0
    for (ax, ay), (bx, by) in pairwise(points):
        length = hypot(bx - ax, by - ay)
        for mark in (start, end):
            if walked <= mark <= walked + length and length:
                share = (mark - walked) / length
                piece.append((ax + (bx - ax) * share, ay + (by - ay) * share))
        if start < walked + length < end:
            piece.append((bx, by))
        walked += length
    return piece


def _add_band(triangles: Triangles, points: list[Point], half: float, closed: bool) -> None:
    first = len(triangles.vertices) // 4
    count = len(points)
    for k, (x, y) in enumerate(points):
        before = points[k - 1] if k or closed else None
        after = points[(k + 1) % count] if k < count - 1 or closed else None
        dx, dy = _offset(before, (x, y), after, half)
        triangles.vertices += [x + dx, y + dy, 0.5, 0.0, x - dx, y - dy, 0.5, 1.0]
    for k in range(count if closed else count - 1):
        a, b = first + 2 * k, first + 2 * ((k + 1) % count)
        triangles.indices += [a, a + 1, b, b, a + 1, b + 1]


def _offset(before: Point | None, at: Point, after: Point | None, half: float) -> Point:
    """From a point of the path to the band's edge: square to the line, mitred in a corner."""
    nx1, ny1 = _normal(before, at) if before else (0.0, 0.0)
    nx2, ny2 = _normal(at, after) if after else (0.0, 0.0)
    nx, ny = nx1 + nx2, ny1 + ny2
    length = hypot(nx, ny)
    if length < 1e-9:
        return (nx1 * half, ny1 * half)
    if not (before and after):
        return (nx * half, ny * half)
    reach = min(SHARPEST, 2 / length) * half
    return (nx / length * reach, ny / length * reach)


def _normal(a: Point, b: Point) -> Point:
    dx, dy = b[0] - a[0], b[1] - a[1]
    length = hypot(dx, dy)
    return (-dy / length, dx / length) if length else (0.0, 0.0)
