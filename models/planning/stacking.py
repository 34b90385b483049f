"""Which piece is stacked on which: their outlines share area, and the upper one stands later in the file."""

from shapely import STRtree

from models.job.job import Job
from models.job.outlines import to_shapely

OVERLAP_MM2 = 1.0
"""Outlines that share no more than this lie side by side."""


def stacked_pairs(job: Job) -> tuple[tuple[str, str], ...]:
    """The ids of (upper, lower) for each piece that is stacked on another, in file order of the upper one.

    Valid for outlines that do not cross themselves.
    """
    pieces = job.pieces
    shapes = [to_shapely(piece.outline) for piece in pieces]
    meeting = STRtree(shapes).query(shapes, predicate="intersects").T.tolist()
    return tuple(
        (pieces[upper].id, pieces[lower].id)
        for upper, lower in sorted(meeting)
        if upper > lower
        and pieces[upper].side == pieces[lower].side
        and shapes[upper].intersection(shapes[lower]).area > OVERLAP_MM2
    )
