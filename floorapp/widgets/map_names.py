"""The names on the placement map, each where it covers least, and the legend of the pieces under it."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from floorapp import theme
from floorapp.palette import CLOTH, HELD, INK, PAPER, SEAM, Colour
from floorapp.widget_views import MapPiece, MapView, Role
from floorapp.widgets.drawing import draw_fill, draw_words, words_texture
from floorapp.widgets.map_layers import MapLayers
from floorapp.widgets.map_scale import MapScale, corners, rings_of, shared_area, whole_side
from floorapp.widgets.shapes import SignName, shape_of
from floorapp.widgets.signs import draw_shape
from floorapp.widgets.strokes import points_along
from models.geometry import Box, Outline, Point, Polygon, Ring
from models.job.job import Piece, Zone, ZoneKind

LEGEND_MM = 6.0
MARGIN_MM = 0.8
LINE_STEP_PX = 9.0
LINE_WEIGHT_PX = 8.0
"""Hiding a stretch of a line is as bad as hiding this broad a band of a piece."""
MARK_WEIGHT = 10.0
"""What is marked is what the screen is about: hiding a bit of it is as bad as so much of another piece."""
ROLE_WORDS = {
    Role.NOW: "this hit",
    Role.PEEL: "peel now",
    Role.LEAVE: "leave",
    Role.RUB: "rub now",
    Role.DOWN: "down",
    Role.FAULTY: "not right",
    Role.LATER: "later",
    Role.MARKED: "marked",
}


@dataclass(slots=True)
class MapNames:
    """One set of names. `taken` and `lines` are what they should not hide, which grow as names are set, and
    `marked` what they should hide least of all.
    """

    canvas: Any
    scale: MapScale
    room: Box
    taken: list[Box] = field(default_factory=list)
    lines: list[Point] = field(default_factory=list)
    marked: list[Box] = field(default_factory=list)

    def draw(self, view: MapView) -> None:
        self.taken = [self._room_of(entry) for entry in view.pieces]
        self.marked = [self._room_of(entry) for entry in view.pieces if entry.role == Role.MARKED]
        for ring in rings_of(whole_side(view.side)):
            self._keep_clear_of(ring)
        for zone in view.side.zones:
            self._keep_clear_of(corners(zone.box))
        if view.platen:
            self._platen(view.platen)
        for zone in view.side.zones:
            self._zone(zone)

    def _room_of(self, entry: MapPiece) -> Box:
        """What a piece takes up, with the ring around it where it is marked."""
        box = self.scale.box_px(entry.piece.box)
        more = theme.px(4) if entry.role == Role.MARKED else 0.0
        return Box(box.x - more, box.y - more, box.width + 2 * more, box.height + 2 * more)

    def _keep_clear_of(self, ring: Ring) -> None:
        path = self.scale.ring_px(ring)
        self.lines += points_along([*path, path[0]], LINE_STEP_PX)

    def _platen(self, platen: Box) -> None:
        words = f"platen {platen.width:g} × {platen.height:g} mm"
        texture = words_texture(words, theme.px(theme.SMALL_MM), bold=True)
        self._name(texture, _at_corners(self.scale.box_px(platen), texture), INK, PAPER)
        self._keep_clear_of(corners(platen))

    def _zone(self, zone: Zone) -> None:
        keep_out = zone.kind == ZoneKind.KEEP_OUT
        words = f"{zone.label}: keep out" if keep_out else f"{zone.label}: raised"
        texture = words_texture(words, theme.px(theme.SMALL_MM))
        places = _around(self.scale.box_px(zone.box), texture)
        self._name(texture, places, CLOTH, HELD if keep_out else SEAM)

    def _name(self, texture: Any, places: Sequence[Point], ground: Colour, ink: Colour) -> None:
        plate = self._least_hiding([self._plate(texture, place) for place in places])
        self.taken.append(plate)
        draw_fill(self.canvas, [corners(plate)], ground)
        draw_words(self.canvas, texture, plate.x + theme.px(MARGIN_MM), plate.y, ink)

    def _least_hiding(self, plates: Sequence[Box]) -> Box:
        """The first that hides nothing, else the one that hides least."""
        hidden: list[float] = []
        for plate in plates:
            hidden.append(self._hidden(plate))
            if not hidden[-1]:
                return plate
        return plates[hidden.index(min(hidden))]

    def _hidden(self, plate: Box) -> float:
        """How much a name would hide there: areas of pieces and names, and stretches of lines."""
        points = sum(plate.x < x < plate.right and plate.y < y < plate.bottom for x, y in self.lines)
        of_lines = points * LINE_STEP_PX * LINE_WEIGHT_PX
        of_marks = MARK_WEIGHT * sum(shared_area(plate, box) for box in self.marked)
        return of_lines + of_marks + sum(shared_area(plate, box) for box in self.taken)

    def _plate(self, texture: Any, place: Point) -> Box:
        """The box of a name, moved into the room where it would stand out of it."""
        width = texture.width + 2 * theme.px(MARGIN_MM)
        x = max(self.room.x, min(place[0], self.room.right - width))
        y = max(self.room.y, min(place[1], self.room.bottom - texture.height))
        return Box(x, y, width, texture.height)


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


def _at_corners(box: Box, texture: Any) -> list[Point]:
    """Below, above and inside a box, at its left and its right."""
    right = box.right - texture.width - 2 * theme.px(MARGIN_MM)
    heights = (box.y - texture.height, box.bottom, box.y, box.bottom - texture.height)
    return [(x, y) for y in heights for x in (box.x, right)]


def _around(box: Box, texture: Any) -> list[Point]:
    """Above and below a zone, then beside it, at its middle and its ends."""
    width, gap = texture.width + 2 * theme.px(MARGIN_MM), theme.px(0.6)
    lefts = [box.x + (box.width - width) * share for share in (0.92, 0.08, 0.5)]
    over = [(x, y) for y in (box.bottom + gap, box.y - gap - texture.height) for x in lefts]
    heights = [box.y + (box.height - texture.height) * share for share in (0.5, 0.05, 0.95)]
    beside = [(x, y) for y in heights for x in (box.right + gap, box.x - gap - width)]
    return over + beside if box.width > box.height else beside + over
