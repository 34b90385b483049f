"""Which piece is stacked on which, and how far the sheet a piece comes on reaches."""

from collections.abc import Sequence

from shapely import STRtree
from shapely.geometry.base import BaseGeometry

from models.job.job import Job, Material, Piece
from models.job.outlines import to_shapely

Pair = tuple[int, int]

OVERLAP_MM2 = 1.0
"""Outlines that share no more than this lie side by side."""

QUARTER_SEGMENTS = 16
"""Chords in a quarter turn round a carrier's corner: a margin of 6 mm is met within 0.01 mm."""


def stacked_pairs(job: Job) -> tuple[tuple[str, str], ...]:
    """The ids of (upper, lower) for each piece that is stacked on another, in file order of the upper one."""
    return stacked_among(job.pieces)


def stacked_among(pieces: Sequence[Piece]) -> tuple[tuple[str, str], ...]:
    """As stacked_pairs, of pieces in file order. Valid for outlines that do not cross themselves."""
    shapes = [to_shapely(piece.outline) for piece in pieces]
    return tuple((pieces[upper].id, pieces[lower].id) for upper, lower in stacked_shapes(shapes, pieces))


def stacked_shapes(shapes: Sequence[BaseGeometry], pieces: Sequence[Piece]) -> list[Pair]:
    """The numbers of (upper, lower) for each of `pieces`, of these shapes, that is stacked on another."""
    return [
        (upper, lower)
        for upper, lower in meeting(shapes, shapes)
        if upper > lower
        and pieces[upper].side == pieces[lower].side
        and overlap(shapes[upper], shapes[lower])
    ]


def meeting(shapes: Sequence[BaseGeometry], others: Sequence[BaseGeometry]) -> list[Pair]:
    """The numbers of (shape, other) for each two that share a point at least, in order."""
    if not shapes:
        return []
    return sorted(map(tuple, STRtree(others).query(shapes, predicate="intersects").T.tolist()))


def overlap(shape: BaseGeometry, other: BaseGeometry) -> bool:
    """Whether they share so much that one lies on the other."""
    return float(shape.intersection(other).area) > OVERLAP_MM2


def carrier_of(piece: Piece, material: Material) -> BaseGeometry | None:
    """The sheet that `piece` comes on, its outline grown on all sides [mm]; None where it has none."""
    return carrier_round(to_shapely(piece.outline), material) if material.carrier else None


def carrier_round(shape: BaseGeometry, material: Material) -> BaseGeometry:
    """The sheet of a material that has one, for a piece of this shape."""
    return shape.buffer(material.carrier_margin_mm, quad_segs=QUARTER_SEGMENTS)
