"""The signs as lines and filled areas in a unit square, y upwards: plain geometry, without Kivy."""

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from math import asin, cos, pi, sin

from floorapp.views import Tone
from floorapp.widgets.strokes import Path
from models.geometry import Point
from models.job.job import Peel


class SignName(StrEnum):
    NONE = ""
    TICK = "tick"
    CROSS = "cross"
    RING = "ring"
    HELD = "held"
    REST = "rest"
    PRESS = "press"
    TO_DO = "to do"
    CAUTION = "caution"
    BOX = "box"
    TICKED_BOX = "ticked box"
    BACKSPACE = "backspace"
    HOT = "hot"
    WARM = "warm"
    COLD = "cold"
    SHEET = "sheet"  # nothing to peel


@dataclass(frozen=True, slots=True)
class Shape:
    """`line` is the breadth of its lines, `width` how much of the unit square it takes from left to right."""

    lines: tuple[Path, ...] = ()
    loops: tuple[Path, ...] = ()
    fills: tuple[Path, ...] = ()
    line: float = 0.11
    width: float = 1.0


TONE_SIGNS = {
    Tone.PLAIN: SignName.NONE,
    Tone.PRESS: SignName.PRESS,
    Tone.REST: SignName.REST,
    Tone.DONE: SignName.TICK,
    Tone.ATTENTION: SignName.CAUTION,
    Tone.HELD: SignName.HELD,
    Tone.SPOILED: SignName.CROSS,
}
PEEL_SIGNS = {
    Peel.HOT: SignName.HOT,
    Peel.WARM: SignName.WARM,
    Peel.COLD: SignName.COLD,
    Peel.NONE: SignName.SHEET,
}
TICK: Path = ((0.12, 0.52), (0.40, 0.20), (0.90, 0.84))
BOX: Path = ((0.08, 0.08), (0.92, 0.08), (0.92, 0.92), (0.08, 0.92))


def circle(x: float, y: float, radius: float) -> list[Point]:
    return arc((x, y), radius, 0.0, 2 * pi)


def arc(centre: Point, radius: float, start: float, end: float) -> list[Point]:
    """Points on a circle, counter-clockwise from `start` to `end` [radians], one about every 11 degrees."""
    (x, y), steps = centre, max(2, round((end - start) * 16 / pi))
    angles = [start + (end - start) * k / steps for k in range(steps + 1)]
    return [(x + radius * cos(a), y + radius * sin(a)) for a in angles]


def shape_of(name: SignName) -> Shape:
    return _SHAPES[name]()


def _rectangle(x: float, y: float, width: float, height: float) -> Path:
    return ((x, y), (x + width, y), (x + width, y + height), (x, y + height))


def _tick() -> Shape:
    return Shape(lines=(TICK,))


def _cross() -> Shape:
    return Shape(lines=(((0.14, 0.14), (0.86, 0.86)), ((0.14, 0.86), (0.86, 0.14))))


def _ring() -> Shape:
    return Shape(loops=(circle(0.5, 0.5, 0.42),))


def _held() -> Shape:
    bars = (_rectangle(0.29, 0.26, 0.14, 0.48), _rectangle(0.57, 0.26, 0.14, 0.48))
    return Shape(loops=(BOX,), fills=bars)


def _rest() -> Shape:
    return Shape(loops=(circle(0.5, 0.5, 0.42),), lines=(((0.5, 0.76), (0.5, 0.5), (0.70, 0.38)),))


def _press() -> Shape:
    platen, table = _rectangle(0.10, 0.44, 0.80, 0.17), _rectangle(0.04, 0.06, 0.92, 0.14)
    return Shape(lines=(((0.5, 0.62), (0.5, 0.94)), ((0.28, 0.94), (0.72, 0.94))), fills=(platen, table))


def _to_do() -> Shape:
    eighth = pi / 4
    return Shape(lines=tuple(arc((0.5, 0.5), 0.42, k * eighth, (k + 0.55) * eighth) for k in range(8)))


def _caution() -> Shape:
    triangle = ((0.5, 0.94), (0.97, 0.08), (0.03, 0.08))
    stem, dot = ((0.5, 0.66), (0.5, 0.38)), circle(0.5, 0.23, 0.06)
    return Shape(loops=(triangle,), lines=(stem,), fills=(dot,))


def _box() -> Shape:
    return Shape(loops=(BOX,))


def _ticked_box() -> Shape:
    return Shape(loops=(BOX,), lines=(((0.26, 0.50), (0.44, 0.30), (0.76, 0.72)),))


def _backspace() -> Shape:
    tag = ((0.02, 0.5), (0.30, 0.82), (0.98, 0.82), (0.98, 0.18), (0.30, 0.18))
    return Shape(loops=(tag,), lines=(((0.48, 0.36), (0.76, 0.64)), ((0.48, 0.64), (0.76, 0.36))))


def _thermometer(level: float) -> Shape:
    """A tube over a bulb; `level` is how full: 1 hot, 0.5 warm, 0 cold (and then the bulb is empty too)."""
    bulb_y, bulb, tube, top_y = 0.22, 0.18, 0.11, 0.86
    opening = asin(tube / bulb)
    outline = [
        *arc((0.5, bulb_y), bulb, pi / 2 + opening, 5 * pi / 2 - opening),
        *arc((0.5, top_y), tube, 0.0, pi),
    ]
    mercury: tuple[Path, ...] = ()
    if level > 0:
        column = _rectangle(0.5 - tube, bulb_y, 2 * tube, bulb + 0.1 + (top_y - bulb_y - bulb) * level)
        mercury = (circle(0.5, bulb_y, bulb), column)
    return Shape(loops=(outline,), fills=mercury, line=0.075, width=0.5)


def _sheet() -> Shape:
    return Shape(loops=(_rectangle(0.22, 0.16, 0.56, 0.68),), line=0.08, width=0.7)


_SHAPES: dict[SignName, Callable[[], Shape]] = {
    SignName.NONE: Shape,
    SignName.TICK: _tick,
    SignName.CROSS: _cross,
    SignName.RING: _ring,
    SignName.HELD: _held,
    SignName.REST: _rest,
    SignName.PRESS: _press,
    SignName.TO_DO: _to_do,
    SignName.CAUTION: _caution,
    SignName.BOX: _box,
    SignName.TICKED_BOX: _ticked_box,
    SignName.BACKSPACE: _backspace,
    SignName.HOT: lambda: _thermometer(1.0),
    SignName.WARM: lambda: _thermometer(0.35),
    SignName.COLD: lambda: _thermometer(0.0),
    SignName.SHEET: _sheet,
}
