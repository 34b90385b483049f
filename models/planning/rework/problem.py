"""One side of a garment, laid out for the search of extra hits: its parts, their wants, how to hit them."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from models.geometry import Box, Point
from models.job.job import Job, Material, Press, Pressure, Side, ZoneKind
from models.plan.plan import Hit
from models.planning.problem.bitset import bits_of, members
from models.planning.problem.platen_positions import Spot, spots
from models.planning.rework.cells import Cell
from models.planning.rework.rules import Choice, Closing, Laying, State, Terms


@dataclass(frozen=True, slots=True)
class Setting:
    temperature_c: float
    pressure: Pressure

    def suits(self, material: Material) -> bool:
        in_window = material.lowest_c <= self.temperature_c <= material.hottest_c
        return in_window and self.pressure in material.pressures


@dataclass(frozen=True)
class Board:
    """The laid and the new pieces of one side, cell by cell. Sets of cells are bits of an integer, as in the
    search, and so are sets of `pieces`.
    """

    job: Job
    side: Side
    cells: tuple[Cell, ...]
    laying: Laying | None = None

    @cached_property
    def pieces(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(cell.piece.id for cell in self.cells))

    @cached_property
    def terms(self) -> Terms:
        return Terms(
            parts_of=tuple(self._cells_of(piece) for piece in self.pieces),
            whole=self._set_of(lambda cell: cell.is_whole),
            first_s=tuple(self.job.material_of(piece).first_s for piece in self.pieces),
            longest_s=tuple(cell.material.longest_s for cell in self.cells),
            second_s=tuple(cell.second_s for cell in self.cells),
            shortest_s=self.job.shortest_s,
            laying=self.laying,
        )

    @cached_property
    def start(self) -> State:
        new = {cell.piece.id for cell in self.cells if cell.is_new}
        return State(
            missing_s=tuple(cell.missing_s for cell in self.cells),
            needs_s=tuple(cell.needs_s for cell in self.cells),
            left_s=tuple(cell.left_s for cell in self.cells),
            second=self._set_of(lambda cell: cell.second_s > 0),
            unlaid=bits_of(n for n, piece in enumerate(self.pieces) if piece in new),
        )

    @cached_property
    def spots(self) -> tuple[Spot, ...]:
        metal = [zone.box for zone in self.side.zones_of(ZoneKind.KEEP_OUT)]
        return spots([cell.box for cell in self.cells], metal, self.job.presses, self._of_interest)

    @cached_property
    def places(self) -> dict[Choice, list[Spot]]:
        """Every way to hit the cells that miss something, and where the platen can lie for it."""
        new = self._set_of(lambda cell: cell.is_new)
        places: dict[Choice, list[Spot]] = {}
        for number, setting in self._settings():
            suited, scorched = self._suited(setting) & self._of_interest, self._scorched(setting)
            for spot in self.spots:
                if spot.press == number and spot.held & suited and not spot.touched & scorched & ~new:
                    choice = Choice(spot.touched, spot.held & suited, spot.touched & scorched)
                    places.setdefault(choice, []).append(spot)
        return places

    def setting_for(self, choice: Choice, press: Press, laid: int, beside: Sequence[Hit]) -> Setting:
        """The pressure that stands first with the counted materials, and the temperature nearest to their set
        of those with the fewest changes against the hits `beside` it on the same press; both of cells `laid`.
        """
        counted = {self.cells[k].material for k in members(choice.counted & laid)}
        touched = {self.cells[k].material for k in members(choice.touched & laid)}
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

    def platen_for(self, choice: Choice, press: int, laid: int) -> Box:
        """Where that press's platen lies with the counted cells of those `laid` nearest to its middle."""
        width, height = self.job.presses[press].platen_width_mm, self.job.presses[press].platen_height_mm
        x, y = _middle([self.cells[k].box for k in members(choice.counted & laid)])
        wanted = (x - width / 2, y - height / 2)
        corners = [spot.corner_near(wanted) for spot in self.places[choice] if spot.press == press]
        nearest = min(corners, key=lambda c: ((c[0] - wanted[0]) ** 2 + (c[1] - wanted[1]) ** 2, c))
        return Box(*nearest, width, height)

    def hit(self, closing: Closing, unlaid: int, beside: Sequence[Hit]) -> Hit:
        """The closing, for which `unlaid` pieces are not laid yet, as a hit that lays what it does; its other
        lists are still empty. `beside` are the known hits around it.
        """
        number = self.press_for(closing.choice, beside)
        press, laid = self.job.presses[number], ~self.terms.parts_in(unlaid & ~closing.lays)
        setting = self.setting_for(closing.choice, press, laid, beside)
        return Hit(
            n=1,
            side=self.side.name,
            platen=self.platen_for(closing.choice, number, laid),
            temperature_c=setting.temperature_c,
            pressure=setting.pressure,
            dwell_s=closing.dwell_s,
            lay=tuple(self.pieces[n] for n in members(closing.lays)),
            count=(),
            touch_again=(),
            cover=False,
            pad=False,
            peel=(),
            why=(),
            press=press.name,
        )

    @cached_property
    def _of_interest(self) -> int:
        """What wants something, and what is in the way until it is down."""
        return self._set_of(lambda cell: cell.wants_s > 0 or cell.missing_s > 0)

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

    def _cells_of(self, piece: str) -> int:
        return self._set_of(lambda cell: cell.piece.id == piece)

    def _set_of(self, belongs: Callable[[Cell], bool]) -> int:
        return sum(1 << k for k, cell in enumerate(self.cells) if belongs(cell))


def _middle(boxes: Sequence[Box]) -> Point:
    left, right = min(box.x for box in boxes), max(box.right for box in boxes)
    top, bottom = min(box.y for box in boxes), max(box.bottom for box in boxes)
    return ((left + right) / 2, (top + bottom) / 2)
