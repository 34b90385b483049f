"""Draws the placement map, from the cloth up: side, zones, pieces, platen, names."""

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from floorapp import theme
from floorapp.palette import CLOTH, DONE, FAINT_INK, HELD, INK, PAPER, PRESS, SEAM, Colour, darker
from floorapp.widget_views import MapPiece, MapView, Role
from floorapp.widgets.drawing import draw_dashed, draw_fill, draw_lines, draw_words, words_texture
from floorapp.widgets.map_scale import MapScale, rings_of, sign_place
from floorapp.widgets.shapes import SignName, arc, shape_of
from floorapp.widgets.signs import draw_shape
from floorapp.widgets.strokes import Path, thinned
from models.geometry import Box, Point
from models.job.job import Side, Zone, ZoneKind

placed_sign = lru_cache(maxsize=2_000)(sign_place)

EDGE_MM = 0.5
SIGN_MM = 7.0
"""A sign on a piece is at most this high."""
HATCH_MM = 1.6


@dataclass(frozen=True, slots=True)
class MapLayers:
    """One drawing of a map: where it goes, and to what scale."""

    canvas: Any
    scale: MapScale
    room: Box

    def draw(self, view: MapView) -> None:
        self._side(view.side)
        for zone in view.side.zones:
            self._zone(zone)
        for entry in view.pieces:
            self._piece(entry)
        if view.platen:
            self._platen(view.platen)
        for zone in view.side.zones:
            self._zone_name(zone)
        if view.platen:
            self._platen_name(view.platen)

    def _side(self, side: Side) -> None:
        whole = Box(0, 0, side.width_mm, side.height_mm)
        rings = [self.scale.ring_px(r) for r in (rings_of(side.outline) if side.outline else [_corners(whole)])]
        draw_fill(self.canvas, rings, CLOTH)
        draw_lines(self.canvas, rings, theme.px(0.6), INK, closed=True)

    def _zone(self, zone: Zone) -> None:
        corners = self.scale.ring_px(_corners(zone.box))
        box = self.scale.box_px(zone.box)
        if zone.kind == ZoneKind.KEEP_OUT:
            draw_lines(self.canvas, hatching(box, theme.px(HATCH_MM)), theme.px(0.3), HELD)
            draw_lines(self.canvas, [corners], theme.px(EDGE_MM), HELD, closed=True)
            return
        draw_lines(self.canvas, [corners], theme.px(0.25), SEAM, closed=True)
        middle = box.centre[1] if box.width >= box.height else box.centre[0]
        stitches = (
            [(box.x, middle), (box.right, middle)]
            if box.width >= box.height
            else [(middle, box.y), (middle, box.bottom)]
        )
        dot = theme.px(0.4)
        draw_dashed(self.canvas, stitches, dot, SEAM, dash_px=dot, gap_px=2 * dot, closed=False)

    def _piece(self, entry: MapPiece) -> None:
        rings = [thinned(self.scale.ring_px(ring)) for ring in rings_of(entry.piece.outline)]
        match entry.role:
            case Role.NOW:
                draw_fill(self.canvas, rings, PRESS)
                draw_lines(self.canvas, rings, theme.px(EDGE_MM), darker(PRESS), closed=True)
            case Role.DOWN:
                self._down(rings)
                self._sign(entry, SignName.TICK, DONE)
            case Role.LATER:
                self._later(rings)
            case Role.MARKED:
                self._down(rings)
                self._marked(entry)

    def _down(self, rings: list[list[Point]]) -> None:
        draw_fill(self.canvas, rings, PAPER)
        draw_lines(self.canvas, rings, theme.px(EDGE_MM), DONE, closed=True)

    def _later(self, rings: list[list[Point]]) -> None:
        """Faint dashes, on a pale band, so that they are seen on a filled piece too."""
        draw_lines(self.canvas, rings, theme.px(0.7), CLOTH, closed=True)
        for ring in rings:
            draw_dashed(
                self.canvas,
                ring,
                theme.px(0.35),
                FAINT_INK,
                dash_px=theme.px(1.1),
                gap_px=theme.px(0.8),
                closed=True,
            )

    def _sign(self, entry: MapPiece, name: SignName, ink: Colour) -> None:
        spot, radius_mm = placed_sign(entry.piece.outline)
        size = min(1.3 * radius_mm * self.scale.px_per_mm, theme.px(SIGN_MM))
        draw_shape(self.canvas, shape_of(name), self.scale.to_px(spot), size, ink)

    def _marked(self, entry: MapPiece) -> None:
        """A heavy ring around the piece and a cross over it, however small the piece is."""
        box = self.scale.box_px(entry.piece.box)
        spot = placed_sign(entry.piece.outline)[0]
        size = max(min(box.width, box.height) * 0.8, theme.px(4))
        draw_shape(self.canvas, shape_of(SignName.CROSS), self.scale.to_px(spot), min(size, theme.px(9)), HELD)
        ring = [
            (box.centre[0] + x * (box.width / 2 + theme.px(2)), box.centre[1] + y * (box.height / 2 + theme.px(2)))
            for x, y in arc(0, 0, 1.12)
        ]
        draw_lines(self.canvas, [ring], theme.px(1.0), HELD, closed=True)

    def _platen(self, platen: Box) -> None:
        corners = self.scale.ring_px(_corners(platen))
        long, short = theme.px(3), theme.px(1.5)
        for start, end in zip(corners, [*corners[1:], corners[0]], strict=True):
            draw_dashed(
                self.canvas, [start, end], theme.px(0.5), INK, dash_px=long, gap_px=short, closed=False
            )

    def _platen_name(self, platen: Box) -> None:
        words = words_texture(
            f"platen {platen.width:g} × {platen.height:g} mm", theme.px(theme.SMALL_MM), bold=True
        )
        box = self.scale.box_px(platen)
        below = box.y - words.height
        self._plate(words, box.x, below if below >= self.room.y else box.y, INK, PAPER)

    def _zone_name(self, zone: Zone) -> None:
        box = self.scale.box_px(zone.box)
        if zone.kind == ZoneKind.KEEP_OUT:
            words = words_texture(f"{zone.label}: keep out", theme.px(theme.SMALL_MM))
            self._plate(words, box.right + theme.px(1), box.centre[1] - words.height / 2, CLOTH, HELD)
        else:
            words = words_texture(f"{zone.label}: raised", theme.px(theme.SMALL_MM))
            self._plate(words, box.right - words.width - theme.px(2), box.bottom + 1, CLOTH, SEAM)

    def _plate(self, words: Any, left: float, bottom: float, ground: Colour, ink: Colour) -> None:
        """Words on a ground of their own, kept inside the room."""
        margin = theme.px(0.8)
        left = max(self.room.x, min(left, self.room.right - words.width - 2 * margin))
        bottom = max(self.room.y, min(bottom, self.room.bottom - words.height))
        plate = Box(left, bottom, words.width + 2 * margin, words.height)
        draw_fill(self.canvas, [_corners(plate)], ground)
        draw_words(self.canvas, words, left + margin, bottom, ink)


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


def _corners(box: Box) -> tuple[Point, ...]:
    return ((box.x, box.y), (box.right, box.y), (box.right, box.bottom), (box.x, box.bottom))
