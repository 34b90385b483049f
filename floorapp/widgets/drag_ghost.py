"""Draws a piece where a finger has dragged it to, and how far that is."""

from typing import Any

from floorapp import theme
from floorapp.palette import INK, PAPER
from floorapp.widgets.drawing import draw_dashed, draw_fill, draw_words, words_texture
from floorapp.widgets.map_scale import MapScale, corners, rings_of
from floorapp.widgets.piece_drag import PieceDrag
from models.geometry import Box
from models.planning.what_if import shift_words

LINE_MM = 0.6
ABOVE_MM = 3.0
MARGIN_MM = 1.2


def draw_ghost(canvas: Any, scale: MapScale, room: Box, drag: PieceDrag) -> None:
    """The outline in dashes, and the shift above it, both within `room` [px] as far as they go."""
    right_mm, down_mm = drag.shift_mm
    moved = drag.piece.outline.mapped(lambda point: (point[0] + right_mm, point[1] + down_mm))
    for ring in rings_of(moved):
        path, dash = scale.ring_px(ring), theme.px(1.5)
        draw_dashed(canvas, path, theme.px(LINE_MM), INK, dash_px=dash, gap_px=dash / 2, closed=True)
    _draw_shift(canvas, room, scale.box_px(moved.box), shift_words(right_mm, down_mm))


def _draw_shift(canvas: Any, room: Box, piece: Box, words: str) -> None:
    texture, margin = words_texture(words, theme.px(theme.BODY_MM), bold=True), theme.px(MARGIN_MM)
    width = texture.width + 2 * margin
    x = max(room.x, min(piece.centre[0] - width / 2, room.right - width))
    y = max(room.y, min(piece.bottom + theme.px(ABOVE_MM), room.bottom - texture.height))
    draw_fill(canvas, [corners(Box(x, y, width, texture.height))], INK)
    draw_words(canvas, texture, x + margin, y, PAPER)
