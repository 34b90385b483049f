"""The closings of a side with what they ask of the press: who is under the platen, who counts, how hot."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from models.job.job import Pressure
from models.planning.problem.bitset import bits_of, members
from models.planning.problem.platen_positions import Spot
from models.planning.problem.side import SideWork
from models.planning.problem.state import Closing, Standing, after_closing, bare, finished_by

Window = tuple[float, float]  # lowest, hottest [°C]


@dataclass(frozen=True)
class Stroke:
    """`present` are the laid parts, `touched` those under the platen, `wanted` those it has to count for.

    For the `spared` of those touched it had better not count, though they would come nearer to their end.
    """

    work: SideWork
    before: Standing
    closing: Closing
    present: int
    touched: int
    wanted: int
    spared: int

    @cached_property
    def spots(self) -> tuple[Spot, ...]:
        """The spots that do as much; what is not laid yet may lie under the platen or not."""
        away, not_held = self.present & ~self.touched, self.spared & ~self.closing.way.spot.held
        laid = [self.work.parts_of_piece[piece] for piece in members(self.closing.laid)]
        return tuple(
            spot
            for grid in self.work.grids
            for spot in grid.holding(self.wanted).spots()
            if not (spot.touched & away or spot.held & not_held)
            if all(spot.touched & parts for parts in laid)
        )

    @cached_property
    def windows(self) -> dict[int, Window]:
        """What each press that can do it may be set to."""
        lowest_c = max(self.work.parts[k].material.lowest_c for k in members(self.wanted))
        touched = (self.work.parts[k].material.hottest_c for k in members(self.touched))
        hottest_c = min(self.work.job.fabric.hottest_c, *touched)
        presses = self.work.job.presses
        windows = {
            k: (max(lowest_c, presses[k].lowest_c), min(hottest_c, presses[k].hottest_c))
            for k in sorted({spot.press for spot in self.spots})
        }
        return {k: window for k, window in windows.items() if window[0] <= window[1]}

    @cached_property
    def set_c(self) -> tuple[float, ...]:
        """What the materials of the wanted parts are best set to."""
        materials = dict.fromkeys(self.work.parts[k].material for k in members(self.wanted))
        return tuple(material.set_c for material in materials)

    @property
    def pressure(self) -> Pressure:
        """Of those that the wanted parts all take and the spared ones under the platen do not, as far as can
        be, the one that stands first with the materials of the wanted ones.
        """
        materials = dict.fromkeys(self.work.parts[k].material for k in members(self.wanted))
        shared = [p for p in Pressure if all(p in m.pressures for m in materials)]
        held = self.spared & self.closing.way.spot.held
        spared = [self.work.parts[k].material.pressures for k in members(held)]
        return min(
            shared,
            key=lambda p: (sum(p in taken for taken in spared), sum(m.pressures.index(p) for m in materials)),
        )


def strokes_of(work: SideWork, closings: Sequence[Closing], start: Standing | None = None) -> list[Stroke]:
    """The closings as strokes, from `start` or else from the bare side on."""
    now, strokes = start or bare(work), []
    for closing in closings:
        strokes.append(_stroke(work, now, closing))
        now = after_closing(work, now, closing)
    return strokes


def _stroke(work: SideWork, now: Standing, closing: Closing) -> Stroke:
    present = work.parts_of(now.laid | closing.laid)
    in_work = work.parts_of(now.in_work | closing.laid)
    pressed = closing.way.counted & in_work
    wanted = pressed | finished_by(work, now, closing)
    touched = closing.way.touched & present
    missing = bits_of(k for k, s in enumerate(now.missing_s) if s)
    ending = touched & (in_work & missing | finished_by(work, now, closing, touched))
    return Stroke(work, now, closing, present, touched, wanted, ending & ~wanted & work.better_late)
