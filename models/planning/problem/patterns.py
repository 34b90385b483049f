"""Every way to close the press on one side that may be worth it: where the platen lies, how it is set.

A way that touches more, heats more too hot or counts for less than another one is left out: whatever a
sequence does with it, it can do with the other.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from models.job.job import Press, Pressure
from models.planning.problem.bitset import bits_of
from models.planning.problem.platen_positions import Spot
from models.planning.problem.side import SideWork


@dataclass(frozen=True, slots=True)
class Way:
    """The parts that a closing touches, those it would scorch, and those it counts for once they are laid."""

    touched: int
    scorched: int
    counted: int
    spot: Spot = field(compare=False)  # one of those that do the same

    def betters(self, other: "Way", spared: int = 0) -> bool:
        less = other.counted & ~self.counted or self.counted & ~other.counted & spared
        return not (less or self.touched & ~other.touched or self.scorched & ~other.scorched)


@dataclass(frozen=True, slots=True)
class Heat:
    """What a setting means to the parts: which it suits, and which it is too hot for."""

    suited: int
    scorched: int

    def betters(self, other: "Heat", spared: int = 0) -> bool:
        less = other.suited & ~self.suited or self.suited & ~other.suited & spared
        return not (less or self.scorched & ~other.scorched)


def ways_to_hit(
    work: SideWork, on_press: int | None = None, temperature_c: float | None = None, spared: int = 0
) -> tuple[Way, ...]:
    """The ways that no other one betters, in an order that is always the same.

    They are those on any press and at any temperature, or on one and at one. To count for more is better, but
    for the parts that are `spared`.
    """
    all_ways = {
        (spot.touched, spot.touched & heat.scorched, spot.held & heat.suited): spot
        for number, press in enumerate(work.job.presses)
        if on_press in (None, number)
        for heat in _settings(work, press, temperature_c, spared)
        for spot in (work.grids[number].unbettered(spared).spots() if spared else work.spots)
        if spot.press == number and spot.held & heat.suited
    }
    return _unbettered([Way(*key, spot) for key, spot in all_ways.items()], spared)


def _settings(work: SideWork, press: Press, temperature_c: float | None, spared: int) -> list[Heat]:
    """Materials that share a temperature share the highest of their lowest ones, so these will do."""
    lowest = {max(material.lowest_c, press.lowest_c) for material in work.materials}
    tried = sorted(lowest) if temperature_c is None else [temperature_c]
    heats = list(dict.fromkeys(_heats(work, press, tried)))
    return [h for h in heats if not any(other.betters(h, spared) for other in heats if other != h)]


def _heats(work: SideWork, press: Press, temperatures: Sequence[float]) -> Iterator[Heat]:
    for temperature_c in temperatures:
        if temperature_c <= min(press.hottest_c, work.job.fabric.hottest_c):
            yield from (_heat(work, temperature_c, pressure) for pressure in Pressure)


def _heat(work: SideWork, temperature_c: float, pressure: Pressure) -> Heat:
    materials = [part.material for part in work.parts]
    in_window = [m.lowest_c <= temperature_c <= m.hottest_c for m in materials]
    return Heat(
        suited=bits_of(k for k, m in enumerate(materials) if in_window[k] and pressure in m.pressures),
        scorched=bits_of(k for k, m in enumerate(materials) if temperature_c > m.hottest_c),
    )


def _unbettered(ways: Sequence[Way], spared: int) -> tuple[Way, ...]:
    kept: list[Way] = []
    for way in sorted(ways, key=_best_first):
        if not any(better.betters(way, spared) for better in kept):
            kept.append(way)
    return tuple(kept)


def _best_first(way: Way) -> tuple[int, int, int]:
    return (-way.counted.bit_count(), way.touched.bit_count(), way.scorched.bit_count())
