"""A job as it is for one garment size: the sides as they lie flat in it, their pieces shifted."""

from collections import Counter
from dataclasses import replace

from models.geometry import Outline, Point
from models.job.job import Job, Piece, Side, SideInSize


def sizes_of(job: Job) -> tuple[str, ...]:
    """The sizes of the job's garments, that of most garments first; equals as the garments name them."""
    return tuple(size for size, _ in Counter(garment.size for garment in job.garments).most_common())


def differs_by_size(job: Job) -> bool:
    return any(side.sizes for side in job.sides)


def job_for_size(job: Job, size: str) -> Job:
    """The job for garments of `size`, with nothing left in it of the others."""
    if not differs_by_size(job):
        return job
    in_size = {side.name: side_in_size(side, size) for side in job.sides}
    return replace(
        job,
        sides=tuple(_side(side, in_size[side.name]) for side in job.sides),
        pieces=tuple(_shifted(piece, in_size[piece.side].shift_mm) for piece in job.pieces),
    )


def job_for_most(job: Job) -> Job:
    """The job for the size of most garments."""
    return job_for_size(job, sizes_of(job)[0]) if job.garments else job


def side_in_size(side: Side, size: str) -> SideInSize:
    """What the side is in `size`; where the job says nothing of it, as it is otherwise."""
    as_it_stands = SideInSize(size, side.width_mm, side.height_mm, side.zones, (0.0, 0.0))
    return next((in_size for in_size in side.sizes if in_size.size == size), as_it_stands)


def _side(side: Side, in_size: SideInSize) -> Side:
    width, height = in_size.width_mm, in_size.height_mm
    return Side(side.name, width, height, in_size.zones, _stretched(side, width, height))


def _stretched(side: Side, width_mm: float, height_mm: float) -> Outline | None:
    """The side's outline, drawn for the eye, as large as the side has become."""
    across, down = width_mm / side.width_mm, height_mm / side.height_mm
    return side.outline and side.outline.mapped(lambda point: (point[0] * across, point[1] * down))


def _shifted(piece: Piece, by_mm: Point) -> Piece:
    moved = piece.outline.mapped(lambda point: (point[0] + by_mm[0], point[1] + by_mm[1]))
    return replace(piece, outline=moved)
