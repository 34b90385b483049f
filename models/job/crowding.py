"""Whether the pieces of a job lie over each other in more corners than can be worked out in a few seconds."""

from collections.abc import Iterator, Sequence

import numpy as np
from shapely import STRtree, box

from models.geometry import Box
from models.job.job import Piece

MAX_CORNERS = 1_000_000
"""Corners within the box that two pieces share, over all such pairs: a few seconds of crossings."""

Corners = np.ndarray[tuple[int, int], np.dtype[np.float64]]


def are_crowded(pieces: Sequence[Piece]) -> bool:
    """Return whether the pairs that share a part of their boxes have more than MAX_CORNERS in it."""
    if not pieces:
        return False
    pairs = [pair for pair in _pairs(pieces) if pieces[pair[0]].side == pieces[pair[1]].side]
    corners = [_corners(piece) for piece in pieces]
    if sum(len(corners[one]) + len(corners[other]) for one, other in pairs) <= MAX_CORNERS:
        return False
    met = 0
    for one, other in pairs:
        shared = (pieces[one].box, pieces[other].box)
        met += _count_within(corners[one], shared) + _count_within(corners[other], shared)
        if met > MAX_CORNERS:
            return True
    return False


def _pairs(pieces: Sequence[Piece]) -> Iterator[tuple[int, int]]:
    boxes = [box(piece.box.x, piece.box.y, piece.box.right, piece.box.bottom) for piece in pieces]
    found = STRtree(boxes).query(boxes).T.tolist()
    return ((one, other) for one, other in found if one < other)


def _corners(piece: Piece) -> Corners:
    rings = (ring for part in piece.outline.polygons for ring in (part.exterior, *part.holes))
    return np.array([corner for ring in rings for corner in ring], dtype=np.float64)


def _count_within(corners: Corners, shared: tuple[Box, Box]) -> int:
    one, other = shared
    low = np.array([max(one.x, other.x), max(one.y, other.y)])
    high = np.array([min(one.right, other.right), min(one.bottom, other.bottom)])
    return int(np.count_nonzero(((corners >= low) & (corners <= high)).all(axis=1)))
