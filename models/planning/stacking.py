"""Which piece is stacked on which, and how far the sheet a piece comes on reaches."""

from collections.abc import Sequence

from shapely import STRtree
from shapely.geometry.base import BaseGeometry

from models.job.job import Job, Material, Piece
from models.job.outlines import to_shapely

OVERLAP_MM2 = 1.0
"""Outlines that share no more than this lie side by side."""

QUARTER_SEGMENTS = 16
"""Chords in a quarter turn round a carrier's corner: a margin of 6 mm is met within 0.01 mm."""


def stacked_pairs(job: Job) -> tuple[tuple[str, str], ...]:
    """The ids of (upper, lower) for each piece that is stacked on another, in file order of the upper one."""
    return stacked_among(job.pieces)


def stacked_among(pieces: Sequence[Piece]) -> tuple[tuple[str, str], ...]:
    """As stacked_pairs, of pieces in file order. Valid for outlines that do not cross themselves."""
    if not pieces:
        return ()
    shapes = [to_shapely(piece.outline) for piece in pieces]
    meeting = STRtree(shapes).query(shapes, predicate="intersects").T.tolist()
    return tuple(
        (pieces[upper].id, pieces[lower].id)
        for upper, lower in sorted(meeting)
        if upper > lower
        and pieces[upper].side == pieces[lower].side
        and shapes[upper].intersection(shapes[lower]).area > OVERLAP_MM2
    )


def carrier_of(piece: Piece, material: Material) -> BaseGeometry | None:
    """The sheet that `piece` comes on, its outline grown on all sides [mm]; None where it has none."""
    if not material.carrier:
        return None
    return to_shapely(piece.outline).buffer(material.carrier_margin_mm, quad_segs=QUARTER_SEGMENTS)
