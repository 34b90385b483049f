"""The names on the placement map, each where it covers least, and the legend of the pieces under it."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from floorapp import theme
from floorapp.palette import CLOTH, HELD, INK, PAPER, SEAM, Colour
from floorapp.widget_views import MapPiece, MapView, Role
from floorapp.widgets.drawing import draw_fill, draw_words, words_texture
from floorapp.widgets.map_layers import MapLayers
from floorapp.widgets.map_scale import MapScale, corners
from floorapp.widgets.shapes import SignName, shape_of
from floorapp.widgets.signs import draw_shape
from models.geometry import Box, Outline, Point, Polygon
from models.job.job import Piece, Zone, ZoneKind

LEGEND_MM = 6.0
MARGIN_MM = 0.8
ROLE_WORDS = {Role.NOW: "this hit", Role.DOWN: "down", Role.LATER: "later", Role.MARKED: "marked"}


@dataclass(slots=True)
class MapNames:
    """One set of names; `taken` grows with every name, so that the next one keeps clear of it."""

    canvas: Any
    scale: MapScale
    room: Box
    taken: list[Box] = field(default_factory=list)

    def draw(self, view: MapView) -> None:
        self.taken = [self._room_of(entry) for entry in view.pieces]
        if view.platen:
            words = f"platen {view.platen.width:g} × {view.platen.height:g} mm"
            texture = words_texture(words, theme.px(theme.SMALL_MM), bold=True)
            self._name(texture, _at_corners(self.scale.box_px(view.platen), texture), INK, PAPER)
        for zone in view.side.zones:
            self._zone(zone)

    def _room_of(self, entry: MapPiece) -> Box:
        """What a piece takes up, with the ring around it where it is marked."""
        box = self.scale.box_px(entry.piece.box)
        more = theme.px(4) if entry.role == Role.MARKED else 0.0
        return Box(box.x - more, box.y - more, box.width + 2 * more, box.height + 2 * more)

    def _zone(self, zone: Zone) -> None:
        keep_out = zone.kind == ZoneKind.KEEP_OUT
        texture = words_texture(
            f"{zone.label}: keep out" if keep_out else f"{zone.label}: raised", theme.px(theme.SMALL_MM)
        )
        places = _around(self.scale.box_px(zone.box), texture)
        self._name(texture, places, CLOTH, HELD if keep_out else SEAM)

    def _name(self, texture: Any, places: Sequence[Point], ground: Colour, ink: Colour) -> None:
        plates = [_plate(texture, place, self.room) for place in places]
        plate = min(plates, key=lambda plate: sum(_shared_area(plate, box) for box in self.taken))
        self.taken.append(plate)
        draw_fill(self.canvas, [corners(plate)], ground)
        draw_words(self.canvas, texture, plate.x + theme.px(MARGIN_MM), plate.y, ink)


def draw_legend(canvas: Any, room: Box, roles: Sequence[Role]) -> None:
    """What the forms of the pieces mean, in one line at the foot of the room."""
    words = [words_texture(ROLE_WORDS[role], theme.px(theme.SMALL_MM)) for role in roles]
    size, gap, wide = theme.px(3.4), theme.px(1.2), theme.px(5)
    length = sum(texture.width + size + gap + wide for texture in words) - wide
    left = room.x + (room.width - length) / 2
    middle = room.y + theme.px(LEGEND_MM) / 2
    for role, texture in zip(roles, words, strict=True):
        _draw_sample(canvas, role, Box(left, middle - size / 2, size, size))
        draw_words(canvas, texture, left + size + gap, middle - texture.height / 2, INK)
        left += size + gap + texture.width + wide


def _draw_sample(canvas: Any, role: Role, box: Box) -> None:
    if role == Role.MARKED:
        draw_shape(canvas, shape_of(SignName.CROSS), box.centre, box.width, HELD)
        return
    square = Outline((Polygon(corners(Box(0, 0, box.width, box.height))),))
    sample = MapPiece(Piece("", "", "", "", square), role)
    MapLayers(canvas, MapScale(1.0, box.x, box.bottom)).piece(sample)


def _shared_area(a: Box, b: Box) -> float:
    width = min(a.right, b.right) - max(a.x, b.x)
    height = min(a.bottom, b.bottom) - max(a.y, b.y)
    return max(0.0, width) * max(0.0, height)


def _plate(texture: Any, place: Point, room: Box) -> Box:
    """The box of a name, moved into the room where it would stand out of it."""
    width = texture.width + 2 * theme.px(MARGIN_MM)
    x = max(room.x, min(place[0], room.right - width))
    y = max(room.y, min(place[1], room.bottom - texture.height))
    return Box(x, y, width, texture.height)


def _at_corners(box: Box, texture: Any) -> list[Point]:
    """Below, above and inside a box, at its left and its right."""
    right = box.right - texture.width - 2 * theme.px(MARGIN_MM)
    heights = (box.y - texture.height, box.bottom, box.y)
    return [(x, y) for y in heights for x in (box.x, right)]


def _around(box: Box, texture: Any) -> list[Point]:
    """Beside an upright box; above, below and beyond the ends of a lying one."""
    width, gap = texture.width + 2 * theme.px(MARGIN_MM), theme.px(0.6)
    if box.height > box.width:
        heights = (box.centre[1] - texture.height / 2, box.y + gap, box.bottom - texture.height - gap)
        return [(x, y) for y in heights for x in (box.right + gap, box.x - gap - width)]
    lefts = [box.x + (box.width - width) * share for share in (0.92, 0.08, 0.5)]
    along = [(x, y) for y in (box.bottom + gap, box.y - gap - texture.height) for x in lefts]
    middle = box.centre[1] - texture.height / 2
    return [*along, (box.right + gap, middle), (box.x - gap - width, middle)]
