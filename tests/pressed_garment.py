"""A garment under the press as the rule checker sees it: geometry, parts and seconds worked out anew.

Nothing here comes from the planner, so that a fault in its geometry or its sums cannot excuse itself.
"""

from collections.abc import Mapping
from itertools import pairwise
from typing import Protocol

from shapely import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from models.job.job import Job, Material, Piece
from models.plan.plan import Hit

OVERLAP_MM2 = 1.0
SAME_MM = 1e-6
"""Edges nearer than this are one edge: outlines are turned and scaled in floating point."""

Bounds = tuple[float, float, float, float]  # left, top, right, bottom


class Record(Protocol):
    """What has really happened to a piece; numbers for each of its parts."""

    @property
    def laid(self) -> bool: ...
    @property
    def needed_s(self) -> int: ...
    @property
    def heated_s(self) -> tuple[int, ...]: ...
    @property
    def counted_s(self) -> tuple[int, ...]: ...
    @property
    def finish_due_s(self) -> tuple[int, ...]: ...
    @property
    def lifted(self) -> bool: ...


class Garment:
    """Which pieces are laid, and the seconds that each of their parts has had."""

    def __init__(self, job: Job) -> None:
        self.job = job
        self.pieces = {piece.id: piece for piece in job.pieces}
        self.materials = {piece.id: job.material(piece.material) for piece in job.pieces}
        self.shapes = {piece.id: shape_of(piece) for piece in job.pieces}
        self.parts = {
            piece.id: parts_in(self.shapes[piece.id].bounds, job, self.materials[piece.id])
            for piece in job.pieces
        }
        self.carriers = {
            piece: self.shapes[piece].buffer(material.carrier_margin_mm)
            for piece, material in self.materials.items()
            if material.carrier
        }
        self.stacked = stacked_pairs(job, self.shapes)
        self.laid: set[str] = set()
        self.peeled: set[str] = set()
        self.lifted: set[str] = set()
        self.needed_s = {piece: material.least_s for piece, material in self.materials.items()}
        self.counted_s = {piece: [0] * len(parts) for piece, parts in self.parts.items()}
        self.heated_s = {piece: [0] * len(parts) for piece, parts in self.parts.items()}
        self.finish_due = {
            piece: [self.materials[piece].finish_s > 0] * len(parts) for piece, parts in self.parts.items()
        }

    def take_over(self, records: Mapping[str, Record], peeled: frozenset[str]) -> None:
        """Start from what really happened, lifts included."""
        for piece, record in records.items():
            if record.laid:
                self.laid.add(piece)
            self.needed_s[piece] = record.needed_s
            self.counted_s[piece] = list(record.counted_s)
            self.heated_s[piece] = list(record.heated_s)
            self.finish_due[piece] = [due > 0 for due in record.finish_due_s]
            if record.lifted:
                self.lifted.add(piece)
        self.peeled |= peeled

    def lift(self, piece: str, again_s: int) -> None:
        """Parts that have had seconds want `again_s` of them anew; the heat stays in the material."""
        least_left = max(0, self.needed_s[piece] - again_s)
        if self.is_down(piece):
            self.lifted.add(piece)
        self.counted_s[piece] = [min(seconds, least_left) for seconds in self.counted_s[piece]]

    def take_off(self, piece: str) -> None:
        """The piece is off the garment, and a new one, carrier on, waits to be laid."""
        for pieces in (self.laid, self.lifted, self.peeled):
            pieces.discard(piece)
        self.counted_s[piece] = [0] * len(self.parts[piece])
        self.heated_s[piece] = [0] * len(self.parts[piece])
        self.finish_due[piece] = [self.materials[piece].finish_s > 0] * len(self.parts[piece])

    def is_down(self, piece: str) -> bool:
        return piece in self.laid and min(self.counted_s[piece]) >= self.needed_s[piece]

    def has_been_down(self, piece: str) -> bool:
        return self.is_down(piece) or piece in self.lifted

    def is_finished(self, piece: str) -> bool:
        return self.is_down(piece) and not any(self.finish_due[piece])

    def lying_in(self, hit: Hit) -> list[str]:
        """The pieces on the garment when the press comes down, on any side, in file order."""
        return [piece for piece in self.pieces if piece in self.laid or piece in hit.lay]

    def touched_parts(self, piece: str, hit: Hit) -> list[int]:
        if self.pieces[piece].side != hit.side:
            return []
        return [k for k, part in enumerate(self.parts[piece]) if share_area(part, platen_of(hit))]

    def counted_parts(self, piece: str, hit: Hit) -> list[int]:
        material = self.materials[piece]
        in_window = material.lowest_c <= hit.temperature_c <= material.hottest_c
        if self.pieces[piece].side != hit.side or not in_window or hit.pressure not in material.pressures:
            return []
        return [k for k, part in enumerate(self.parts[piece]) if lies_inside(part, platen_of(hit))]

    def touched(self, hit: Hit) -> list[str]:
        return [piece for piece in self.lying_in(hit) if self.touched_parts(piece, hit)]

    def finishing_parts(self, piece: str, hit: Hit) -> list[int]:
        """The parts of a piece that is down to which this hit, under a cover sheet, is the second press."""
        if not self.is_down(piece) or hit.dwell_s < self.materials[piece].finish_s:
            return []
        return [k for k in self.counted_parts(piece, hit) if self.finish_due[piece][k]]

    def brought_down(self, hit: Hit) -> list[str]:
        return [
            piece
            for piece in self.lying_in(hit)
            if not self.is_down(piece) and min(self._counted_after(piece, hit)) >= self.needed_s[piece]
        ]

    def press(self, hit: Hit) -> None:
        """Let the hit happen."""
        lying = [piece for piece in self.lying_in(hit) if piece in self.pieces]
        finishing = {piece: self.finishing_parts(piece, hit) if hit.cover else [] for piece in lying}
        fallen = self.brought_down(hit)
        for piece in lying:
            self.counted_s[piece] = self._counted_after(piece, hit)
            for k in self.touched_parts(piece, hit):
                self.heated_s[piece][k] += hit.dwell_s
            for k in finishing[piece]:
                self.finish_due[piece][k] = False
        self.laid |= set(lying)
        self.peeled |= set(fallen)

    def _counted_after(self, piece: str, hit: Hit) -> list[int]:
        counted = set(self.counted_parts(piece, hit))
        return [s + hit.dwell_s if k in counted else s for k, s in enumerate(self.counted_s[piece])]


def shape_of(piece: Piece) -> BaseGeometry:
    return MultiPolygon([Polygon(part.exterior, part.holes) for part in piece.outline.polygons])


def parts_in(bounds: Bounds, job: Job, material: Material) -> list[Bounds]:
    """The grid of equal boxes in which a piece with these bounds is worked, of the fewest boxes.

    Presses that cannot be set to what the material wants, on this fabric, have no say where others can.
    """
    every = (job.press, *job.more_presses)
    hottest_c = min(material.hottest_c, job.fabric.hottest_c)
    able = [p for p in every if max(p.lowest_c, material.lowest_c) <= min(p.hottest_c, hottest_c)]
    left, top, right, bottom = bounds
    grids = [
        (_cells(right - left, press.platen_width_mm), _cells(bottom - top, press.platen_height_mm))
        for press in able or every
    ]
    columns, rows = min(grids, key=lambda grid: grid[0] * grid[1])
    xs = [left + (right - left) * k / columns for k in range(columns + 1)]
    ys = [top + (bottom - top) * k / rows for k in range(rows + 1)]
    return [(x0, y0, x1, y1) for y0, y1 in pairwise(ys) for x0, x1 in pairwise(xs)]


def _cells(length_mm: float, platen_mm: float) -> int:
    cells = 1
    while length_mm > cells * platen_mm + SAME_MM:
        cells += 1
    return cells


def platen_of(hit: Hit) -> Bounds:
    return (hit.platen.x, hit.platen.y, hit.platen.x + hit.platen.width, hit.platen.y + hit.platen.height)


def share_area(a: Bounds, b: Bounds) -> bool:
    common_width = min(a[2], b[2]) - max(a[0], b[0])
    common_height = min(a[3], b[3]) - max(a[1], b[1])
    return common_width > SAME_MM and common_height > SAME_MM


def lies_inside(inner: Bounds, outer: Bounds) -> bool:
    return all(inner[k] >= outer[k] - SAME_MM for k in (0, 1)) and all(
        inner[k] <= outer[k] + SAME_MM for k in (2, 3)
    )


def overlap(a: BaseGeometry, b: BaseGeometry) -> bool:
    return bool(a.intersection(b).area > OVERLAP_MM2)


def stacked_pairs(job: Job, shapes: Mapping[str, BaseGeometry]) -> list[tuple[str, str]]:
    """(p, q) for every p stacked on a q: they overlap on one side and p stands later in the file."""
    return [
        (upper.id, lower.id)
        for place, upper in enumerate(job.pieces)
        for lower in job.pieces[:place]
        if upper.side == lower.side and overlap(shapes[upper.id], shapes[lower.id])
    ]
