"""Where on the garment a piece lies, in words: over a seam, beside it, or on plain cloth."""

import math

from models.geometry import Box
from models.job.job import Job, Piece, Zone, ZoneKind

BESIDE_MM = 15.0
"""An edge this near to a raised zone gets less of the platen (common practice, no source)."""


def place_of(job: Job, piece: Piece) -> str:
    """The piece's side, and how its box lies to the nearest raised zone; the first one of equals.

    `over` where they share area, `beside` within 15 mm, otherwise `plain cloth`.
    """
    zones = job.side(piece.side).zones_of(ZoneKind.RAISED)
    nearest = min(zones, key=lambda zone: _nearness(piece.box, zone), default=None)
    if nearest is None or gap_mm(piece.box, nearest.box) > BESIDE_MM:
        return f"{piece.side}, plain cloth"
    word = "over" if piece.box.shares_area_with(nearest.box) else "beside"
    return f"{piece.side}, {word} the {nearest.label or 'raised zone'}"


def gap_mm(one: Box, other: Box) -> float:
    """The shortest distance between two boxes [mm]; 0 where they touch or overlap."""
    across = max(one.x - other.right, other.x - one.right, 0.0)
    down = max(one.y - other.bottom, other.y - one.bottom, 0.0)
    return math.hypot(across, down)


def _nearness(box: Box, zone: Zone) -> tuple[bool, float]:
    """Zones that lie under the piece come before zones that only touch it."""
    return (not box.shares_area_with(zone.box), gap_mm(box, zone.box))
