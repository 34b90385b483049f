"""A piece larger than the platen is worked in parts; every other piece is one part, its box."""

import math
from collections.abc import Sequence
from functools import lru_cache
from math import prod

from models.geometry import SAME_MM, Box
from models.job.job import Job, Material, Piece, Press
from models.plan.plan import Hit


def parts_of(piece: Piece, presses: Sequence[Press]) -> tuple[Box, ...]:
    """The equal boxes, row by row, in which `piece` is pressed: ceil(w/W) x ceil(h/H) of them.

    Of several presses, those that get hot enough for it, it is the grid of the one that makes the fewest
    parts, the first such.
    """
    return _parts_of_box(piece.box, tuple(presses))


@lru_cache(maxsize=4096)
def _parts_of_box(box: Box, presses: tuple[Press, ...]) -> tuple[Box, ...]:
    """Worked out once for each box: what a hit does to a piece is asked of its parts again and again."""
    columns, rows = min((_grid(box, press) for press in presses), key=prod)
    width, height = box.width / columns, box.height / rows
    return tuple(
        Box(box.x + column * width, box.y + row * height, width, height)
        for row in range(rows)
        for column in range(columns)
    )


def _grid(box: Box, press: Press) -> tuple[int, int]:
    return _cells(box.width, press.platen_width_mm), _cells(box.height, press.platen_height_mm)


def _cells(length_mm: float, platen_mm: float) -> int:
    """How many platens it takes; a piece of just the platen's size takes one, whatever a turn rounded."""
    return max(1, math.ceil((length_mm - SAME_MM) / platen_mm))


def suits(hit: Hit, material: Material) -> bool:
    """Whether the hit's setting is one that the material takes: temperature window and pressure."""
    in_window = material.lowest_c <= hit.temperature_c <= material.hottest_c
    return in_window and hit.pressure in material.pressures


def touched_parts(hit: Hit, piece: Piece, job: Job) -> tuple[bool, ...]:
    """For each part, whether the platen shares area with it."""
    if hit.side != piece.side:
        return tuple(False for _ in parts_of(piece, job.presses_for(piece)))
    return tuple(hit.platen.shares_area_with(part) for part in parts_of(piece, job.presses_for(piece)))


def counted_parts(hit: Hit, piece: Piece, job: Job) -> tuple[bool, ...]:
    """For each part, whether the hit counts: wholly under the platen, at a setting the material takes."""
    if hit.side != piece.side or not suits(hit, job.material(piece.material)):
        return tuple(False for _ in parts_of(piece, job.presses_for(piece)))
    return tuple(hit.platen.holds(part) for part in parts_of(piece, job.presses_for(piece)))
