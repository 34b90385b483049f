"""One side of a garment, laid out for the search of extra hits: its parts, their wants, how to hit them."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from models.geometry import Box, Point
from models.job.job import Job, Material, Piece, Press, Pressure, Side, ZoneKind
from models.planning.extra_search import Choice, Closing, Wants, members
from models.planning.parts import parts_of, touched_parts
from models.planning.piece_record import PieceRecord, Records
from models.planning.plan import Hit
from models.planning.platen_spots import Spot, spots
from models.planning.trouble import Needs


@dataclass(frozen=True, slots=True)
class Cell:
    """One part of a laid piece: what it has had, what the hits ahead will add, and what it wants now."""

    piece: Piece
    material: Material
    box: Box
    is_whole: bool  # the piece's only part
    needs_s: int
    missing_s: int
    is_second_press: bool
    heated_s: int
    ahead_s: int

    @property
    def left_s(self) -> int:
        return self.material.total_s - self.heated_s - self.ahead_s


@dataclass(frozen=True, slots=True)
class Setting:
    temperature_c: float
    pressure: Pressure

    def suits(self, material: Material) -> bool:
        in_window = material.lowest_c <= self.temperature_c <= material.hottest_c
        return in_window and self.pressure in material.pressures


@dataclass(frozen=True)
class Board:
    """The laid pieces of one side, cell by cell. Sets of cells are bits of an integer, as in the search."""

    job: Job
    side: Side
    cells: tuple[Cell, ...]

    @cached_property
    def wants(self) -> Wants:
        return Wants(
            needs_s=tuple(cell.needs_s for cell in self.cells),
            missing_s=tuple(cell.missing_s for cell in self.cells),
            at_once=self._set_of(lambda cell: cell.is_second_press),
            whole=self._set_of(lambda cell: cell.is_whole),
            longest_s=tuple(cell.material.longest_s for cell in self.cells),
            left_s=tuple(cell.left_s for cell in self.cells),
            shortest_s=self.job.shortest_s,
        )

    @cached_property
    def spots(self) -> tuple[Spot, ...]:
        metal = [zone.box for zone in self.side.zones_of(ZoneKind.KEEP_OUT)]
        return spots([cell.box for cell in self.cells], metal, self.job.presses, self.wants.wanting)

    @cached_property
    def places(self) -> dict[Choice, list[Spot]]:
        """Every way to hit the cells that want something, and where the platen can lie for it."""
        interest = self._set_of(lambda cell: cell.needs_s > 0 or cell.missing_s > 0)
        places: dict[Choice, list[Spot]] = {}
        for number, setting in self._settings():
            suited, scorched = self._suited(setting), self._scorched(setting)
            for spot in self.spots:
                if spot.press == number and not spot.touched & scorched:
                    choice = Choice(spot.touched, spot.held & suited & interest)
                    places.setdefault(choice, []).append(spot)
        return places

    def setting_for(self, choice: Choice, press: Press, beside: Sequence[Hit]) -> Setting:
        """The pressure that stands first with the counted materials, and the temperature nearest to their set
        of those with the fewest changes against the hits `beside` it on the same press.
        """
        counted = {self.cells[k].material for k in members(choice.counted)}
        touched = {self.cells[k].material for k in members(choice.touched)}
        lowest = max(press.lowest_c, *(m.lowest_c for m in counted))
        hottest = min(self._hottest_c(press), *(m.hottest_c for m in touched))
        set_to = [hit.temperature_c for hit in beside if hit.press == press.name]
        tried = {min(max(t, lowest), hottest) for t in (*set_to, *(m.set_c for m in counted))}
        temperature = min(
            tried, key=lambda t: (sum(t != s for s in set_to), sum(abs(t - m.set_c) for m in counted), t)
        )
        shared = [p for p in Pressure if all(p in m.pressures for m in counted)]
        pressure = min(shared, key=lambda p: sum(m.pressures.index(p) for m in counted))
        return Setting(temperature, pressure)

    def press_for(self, choice: Choice, beside: Sequence[Hit]) -> int:
        """The first of the presses that can do it with the fewest walks to the hits `beside` it."""
        names = [press.name for press in self.job.presses]
        able = {spot.press for spot in self.places[choice]}
        return min(able, key=lambda n: (sum(hit.press != names[n] for hit in beside), n))

    def platen_for(self, choice: Choice, press: int) -> Box:
        """Where that press's platen lies with the counted cells nearest to its middle."""
        width, height = self.job.presses[press].platen_width_mm, self.job.presses[press].platen_height_mm
        x, y = _middle([self.cells[k].box for k in members(choice.counted)])
        wanted = (x - width / 2, y - height / 2)
        corners = [spot.corner_near(wanted) for spot in self.places[choice] if spot.press == press]
        nearest = min(corners, key=lambda c: ((c[0] - wanted[0]) ** 2 + (c[1] - wanted[1]) ** 2, c))
        return Box(*nearest, width, height)

    def hit(self, closing: Closing, n: int, beside: Sequence[Hit]) -> Hit:
        """The closing as a hit, its lists still empty. `beside` are the known hits around it."""
        number = self.press_for(closing.choice, beside)
        press = self.job.presses[number]
        setting = self.setting_for(closing.choice, press, beside)
        return Hit(
            n=n,
            side=self.side.name,
            platen=self.platen_for(closing.choice, number),
            temperature_c=setting.temperature_c,
            pressure=setting.pressure,
            dwell_s=closing.dwell_s,
            lay=(),
            count=(),
            touch_again=(),
            cover=False,
            pad=False,
            peel=(),
            why=(),
            press=press.name,
        )

    def _hottest_c(self, press: Press) -> float:
        return min(press.hottest_c, self.job.fabric.hottest_c)

    def _settings(self) -> Iterator[tuple[int, Setting]]:
        """For each press: materials that share a temperature share the highest of their lowest ones."""
        for number, press in enumerate(self.job.presses):
            lowest = {max(cell.material.lowest_c, press.lowest_c) for cell in self.cells}
            for temperature_c in sorted(lowest):
                if temperature_c <= self._hottest_c(press):
                    yield from ((number, Setting(temperature_c, pressure)) for pressure in Pressure)

    def _suited(self, setting: Setting) -> int:
        return self._set_of(lambda cell: setting.suits(cell.material))

    def _scorched(self, setting: Setting) -> int:
        return self._set_of(lambda cell: setting.temperature_c > cell.material.hottest_c)

    def _set_of(self, belongs: Callable[[Cell], bool]) -> int:
        return sum(1 << k for k, cell in enumerate(self.cells) if belongs(cell))


def board_of(job: Job, side: Side, records: Records, ahead: Sequence[Hit], needs: Needs) -> Board:
    """The board of one side: a part wants as many of its `needs` as it misses."""
    cells = tuple(
        cell
        for piece in job.pieces
        if piece.side == side.name and records[piece.id].laid
        for cell in _cells(job, piece, records[piece.id], ahead, needs.get(piece.id))
    )
    return Board(job, side, cells)


def _cells(
    job: Job, piece: Piece, record: PieceRecord, ahead: Sequence[Hit], needs_s: tuple[int, ...] | None
) -> Iterator[Cell]:
    boxes = parts_of(piece, job.presses_for(piece))
    wanted_s = needs_s or tuple(0 for _ in boxes)
    for k, box in enumerate(boxes):
        missing_s = max(0, record.needed_s - record.counted_s[k])
        yield Cell(
            piece=piece,
            material=job.material(piece.material),
            box=box,
            is_whole=len(boxes) == 1,
            needs_s=min(wanted_s[k], record.finish_due_s[k] if record.down else missing_s),
            missing_s=missing_s,
            is_second_press=record.down,
            heated_s=record.heated_s[k],
            ahead_s=sum(hit.dwell_s for hit in ahead if touched_parts(hit, piece, job)[k]),
        )


def _middle(boxes: Sequence[Box]) -> Point:
    left, right = min(box.x for box in boxes), max(box.right for box in boxes)
    top, bottom = min(box.y for box in boxes), max(box.bottom for box in boxes)
    return ((left + right) / 2, (top + bottom) / 2)
