"""The sides and pieces of a job file, placed: every outline in mm on its side, or its fault."""

from collections.abc import Mapping
from dataclasses import replace

from models.geometry import Box, Outline, Point
from models.job.drawings import Drawings
from models.job.fault_list import FaultList, UnreadableError
from models.job.job import Piece, Side, SideInSize
from models.job.on_the_side import lies_on
from models.job.outlines import from_shapely
from models.job.schema import PieceEntry, ShapeEntry, SideEntry, SideInSizeEntry
from models.job.shapes import area_of
from models.job.si import Si


class Placing:
    """Places shapes in mm; what it cannot place it notes."""

    def __init__(self, si: Si, drawings: Drawings, faults: FaultList) -> None:
        self._si = si
        self._drawings = drawings
        self._faults = faults

    def sides(self, entries: Mapping[str, SideEntry]) -> tuple[Side, ...]:
        return tuple(self._side(place, entry) for place, entry in entries.items())

    def pieces(self, entries: Mapping[str, PieceEntry], sides: tuple[Side, ...]) -> tuple[Piece, ...]:
        """The pieces whose outlines are sound."""
        by_name = {side.name: side for side in sides}
        placed = [self._piece(place, entry, by_name.get(entry.side)) for place, entry in entries.items()]
        return tuple(piece for piece in placed if piece is not None)

    def _side(self, place: str, entry: SideEntry) -> Side:
        width, height = (self._si.mm(length) for length in entry.size)
        middle = (width / 2, height / 2)
        outline = None
        if entry.outline is not None:
            outline = self._outline(entry.outline, middle, 0, f"{place} outline")
        zones = tuple(self._si.zone(zone) for zone in entry.zones)
        side = Side(entry.name, width, height, zones, outline)
        return replace(side, sizes=tuple(self._in_size(side, in_size) for in_size in entry.sizes))

    def _in_size(self, side: Side, entry: SideInSizeEntry) -> SideInSize:
        width, height = side.width_mm, side.height_mm
        if entry.flat is not None:
            width, height = (self._si.mm(length) for length in entry.flat)
        zones = side.zones if entry.zones is None else tuple(self._si.zone(zone) for zone in entry.zones)
        across, down = (float(round(self._si.mm(length))) for length in entry.shift)
        return SideInSize(entry.size, width, height, zones, (across, down))

    def _piece(self, place: str, entry: PieceEntry, side: Side | None) -> Piece | None:
        at = (self._si.mm(entry.at[0]), self._si.mm(entry.at[1]))
        outline = self._outline(entry.shape, at, entry.turn, f"{place} shape")
        if outline is None:
            return None
        if side is not None and not lies_on(side, outline.box):
            wrong = f"lies off the side {side.name} by more than half its box"
            self._faults.note(f"{place} at", wrong, "move it onto the side")
        elif side is not None:
            self._check_in_sizes(place, side, outline.box)
        label = entry.label or entry.id.replace("-", " ")
        return Piece(entry.id, label, entry.side, entry.material, outline)

    def _check_in_sizes(self, place: str, side: Side, box: Box) -> None:
        for in_size in side.sizes:
            if not lies_on(in_size, box.moved(*in_size.shift_mm)):
                wrong = f"lies off the side {side.name} by more than half its box in size {in_size.size}"
                self._faults.note(f"{place} at", wrong, "change that size's flat or shift, or move the piece")

    def _outline(self, shape: ShapeEntry, at: Point, turn: float, place: str) -> Outline | None:
        drawing = None
        if shape.svg is not None and shape.width is not None:
            drawing = self._drawings.area(shape.svg, self._si.mm(shape.width), f"{place}.svg")
            if drawing is None:
                return None
        try:
            return from_shapely(area_of(shape, drawing, at, turn, self._si))
        except UnreadableError as error:
            self._faults.note(f"{place}.{shape.form}", error.wrong, error.mend)
            return None
