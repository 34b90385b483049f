"""Draws the placement map, from the cloth up: side, zones, pieces, platen; the names come from map_names."""

from dataclasses import dataclass
from typing import Any

from floorapp import theme
from floorapp.palette import CLOTH, DONE, FAINT_INK, HELD, INK, PAPER, PRESS, SEAM, Colour, darker
from floorapp.widget_views import MapPiece, MapView, Role
from floorapp.widgets.drawing import draw_dashed, draw_fill, draw_lines
from floorapp.widgets.map_scale import MapScale, corners, rings_of, sign_place, whole_side
from floorapp.widgets.shapes import SignName, circle, shape_of
from floorapp.widgets.signs import draw_shape
from floorapp.widgets.strokes import Path, thinned
from models.geometry import Box, Outline, Point
from models.job.job import Side, Zone, ZoneKind

EDGE_MM = 0.5
SIGN_MM = 7.0
"""A sign on a piece is at most this high."""
LEAST_SIGN_MM = 2.6
HATCH_MM = 1.6


@dataclass(frozen=True, slots=True)
class MapLayers:
    """One drawing of a map: where it goes, and to what scale."""

    canvas: Any
    scale: MapScale

    def draw(self, view: MapView) -> None:
        self._side(view.side)
        for zone in view.side.zones:
            self._zone(zone)
        boxes = [entry.piece.box for entry in view.pieces]
        for k, entry in enumerate(view.pieces):
            lying_on = [j for j in range(k + 1, len(boxes)) if boxes[j].shares_area_with(boxes[k])]
            self.piece(entry, above=tuple(view.pieces[j].piece.outline for j in lying_on))
        for entry in view.pieces:
            if entry.role == Role.MARKED:
                self._mark(entry)
        if view.platen:
            self._platen(view.platen)

    def piece(self, entry: MapPiece, above: tuple[Outline, ...] = ()) -> None:
        """One piece, told apart by its form: filled, pale, ticked, crossed, dashed, or ringed and crossed."""
        rings = [thinned(self.scale.ring_px(ring)) for ring in rings_of(entry.piece.outline)]
        match entry.role:
            case Role.NOW | Role.PEEL | Role.RUB:
                draw_fill(self.canvas, rings, PRESS)
                draw_lines(self.canvas, rings, theme.px(EDGE_MM), darker(PRESS), closed=True)
            case Role.LEAVE:
                draw_fill(self.canvas, rings, PAPER)
                draw_lines(self.canvas, rings, theme.px(EDGE_MM), PRESS, closed=True)
            case Role.LATER:
                self._later(rings)
            case Role.DOWN | Role.MARKED:
                draw_fill(self.canvas, rings, PAPER)
                draw_lines(self.canvas, rings, theme.px(EDGE_MM), DONE, closed=True)
            case Role.FAULTY:
                draw_fill(self.canvas, rings, PAPER)
                draw_lines(self.canvas, rings, theme.px(EDGE_MM), HELD, closed=True)
        if entry.role == Role.DOWN:
            self._sign(SignName.TICK, DONE, entry.piece.outline, above)
        elif entry.role == Role.FAULTY:
            self._sign(SignName.CROSS, HELD, entry.piece.outline, above)

    def _side(self, side: Side) -> None:
        paths = [self.scale.ring_px(ring) for ring in rings_of(whole_side(side))]
        draw_fill(self.canvas, paths, CLOTH)
        draw_lines(self.canvas, paths, theme.px(0.6), INK, closed=True)

    def _zone(self, zone: Zone) -> None:
        frame = [self.scale.ring_px(corners(zone.box))]
        box = self.scale.box_px(zone.box)
        if zone.kind == ZoneKind.KEEP_OUT:
            draw_lines(self.canvas, hatching(box, theme.px(HATCH_MM)), theme.px(0.3), HELD)
            draw_lines(self.canvas, frame, theme.px(EDGE_MM), HELD, closed=True)
        else:
            draw_lines(self.canvas, frame, theme.px(0.25), SEAM, closed=True)
            dot = theme.px(0.4)
            draw_dashed(self.canvas, middle_line(box), dot, SEAM, dash_px=dot, gap_px=2 * dot, closed=False)

    def _later(self, rings: list[list[Point]]) -> None:
        """Faint dashes, on a pale band, so that they are seen on a filled piece too."""
        draw_lines(self.canvas, rings, theme.px(0.7), CLOTH, closed=True)
        width, dash, gap = theme.px(0.35), theme.px(1.1), theme.px(0.8)
        for ring in rings:
            draw_dashed(self.canvas, ring, width, FAINT_INK, dash_px=dash, gap_px=gap, closed=True)

    def _sign(self, sign: SignName, ink: Colour, outline: Outline, above: tuple[Outline, ...]) -> None:
        spot, radius_mm = sign_place(outline, above)
        size = min(max(1.3 * radius_mm * self.scale.px_per_mm, theme.px(LEAST_SIGN_MM)), theme.px(SIGN_MM))
        draw_shape(self.canvas, shape_of(sign), self.scale.to_px(spot), size, ink)

    def _mark(self, entry: MapPiece) -> None:
        """A heavy ring around the piece and a cross over it, however small the piece is."""
        box = self.scale.box_px(entry.piece.box)
        wide, high = box.width / 2 + theme.px(2), box.height / 2 + theme.px(2)
        ring = [(box.centre[0] + x * wide, box.centre[1] + y * high) for x, y in circle(0, 0, 1.12)]
        draw_lines(self.canvas, [ring], theme.px(1.0), HELD, closed=True)
        size = min(max(min(box.width, box.height) * 0.8, theme.px(4)), theme.px(9))
        draw_shape(self.canvas, shape_of(SignName.CROSS), box.centre, size, HELD)

    def _platen(self, platen: Box) -> None:
        frame = self.scale.ring_px(corners(platen))
        long, short = theme.px(3), theme.px(1.5)
        for start, end in zip(frame, [*frame[1:], frame[0]], strict=True):
            edge = [start, end]
            draw_dashed(self.canvas, edge, theme.px(0.5), INK, dash_px=long, gap_px=short, closed=False)


def hatching(box: Box, step_px: float) -> list[Path]:
    """Slanting lines across a box."""
    lines: list[Path] = []
    offset = box.x - box.height + step_px
    while offset < box.right:
        start, end = max(offset, box.x), min(offset + box.height, box.right)
        if end > start:
            lines.append(((start, box.y + start - offset), (end, box.y + end - offset)))
        offset += step_px
    return lines


def middle_line(box: Box) -> Path:
    """Along the box, the long way."""
    x, y = box.centre
    return ((box.x, y), (box.right, y)) if box.width >= box.height else ((x, box.y), (x, box.bottom))
