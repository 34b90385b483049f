"""A drawing's rings, taken apart where they meet themselves.

Drawing programs weld shapes together: such a ring touches itself, runs there and back, or crosses itself by
no more than its saved digits were rounded. A loop as narrow as that is none; a wider one is not ours to guess
away.
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from shapely import LinearRing, LineString, Polygon, STRtree, get_parts, polygonize, union_all
from shapely.geometry.base import BaseGeometry
from shapely.geometry.polygon import orient

from models.geometry import Point, Ring

MAX_MEETINGS = 2_000
"""Of edges that are not neighbours and come near each other; a scribble has as many as their square."""


def simple_rings(ring: Ring, narrow: float) -> list[LinearRing]:
    """Rings that meet themselves nowhere and, each with its direction, enclose what `ring` does.

    Loops no wider than `narrow` are left out. There are no rings where the ring crosses itself in earnest.
    """
    if Polygon(ring).is_valid:
        return [LinearRing(ring)]
    if _is_scribble(ring):
        return []
    faces = [face for face in faces_of([LinearRing(ring)]) if not face.buffer(-narrow / 2).is_empty]
    turns = [_turns_around(face, ring) for face in faces]
    directions = set(turns) - {0}
    if directions not in ({1}, {-1}):
        return []
    enclosed = union_all([face for face, turn in zip(faces, turns, strict=True) if turn])
    return list(_rings_of(enclosed, directions.pop()))


def faces_of(rings: Sequence[LinearRing]) -> list[Polygon]:
    """The faces that the rings cut the plane into, the unbounded one left out."""
    return list(get_parts(polygonize([union_all(rings)])))


def _is_scribble(ring: Ring) -> bool:
    edges = [LineString(edge) for edge in _edges(ring)]
    near, most = STRtree(edges), 3 * len(edges) + MAX_MEETINGS  # an edge comes near itself and two others
    met = 0
    for edge in edges:
        met += len(near.query(edge))
        if met > most:
            return True
    return False


def _turns_around(face: Polygon, ring: Ring) -> int:
    """How often the ring runs around the face, counter-clockwise being +1.

    Each edge counts that a line from the face to the right meets, by whether it runs up or down.
    """
    inside = face.representative_point()
    turns = 0
    for (x1, y1), (x2, y2) in _edges(ring):
        if (y1 <= inside.y) != (y2 <= inside.y):
            direction = 1 if y2 > y1 else -1
            leftness = (x2 - x1) * (inside.y - y1) - (inside.x - x1) * (y2 - y1)
            turns += direction if leftness * direction > 0 else 0
    return turns


def _edges(ring: Ring) -> Iterator[tuple[Point, Point]]:
    return pairwise((*ring, ring[0]))


def _rings_of(area: BaseGeometry, direction: int) -> Iterator[LinearRing]:
    for part in get_parts(area):
        turned = orient(part, direction)
        yield turned.exterior
        yield from turned.interiors
