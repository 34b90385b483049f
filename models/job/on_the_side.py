"""Whether a piece lies on its side: by at least half of its box."""

from models.geometry import Box
from models.job.job import Side, SideInSize

ROUNDING = 1e-9
"""A piece that lies on its side by just its half is not refused for what a turn rounded."""


def lies_on(side: Side | SideInSize, box: Box) -> bool:
    width = min(box.right, side.width_mm) - max(box.x, 0)
    height = min(box.bottom, side.height_mm) - max(box.y, 0)
    half = box.width * box.height / 2
    return max(width, 0) * max(height, 0) >= half * (1 - ROUNDING)


def lies_on_in_every_size(side: Side, box: Box) -> bool:
    return lies_on(side, box) and all(
        lies_on(in_size, box.moved(*in_size.shift_mm)) for in_size in side.sizes
    )
