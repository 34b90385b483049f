"""Signs drawn from lines: the tick, the cross, the thermometer of a peel and the rest."""

from typing import Any

from kivy.clock import Clock
from kivy.properties import ColorProperty, ObjectProperty, OptionProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.widget import Widget

from floorapp.kivy_setup import load_kv_beside
from floorapp.palette import Colour
from floorapp.widgets.drawing import draw_fill, draw_lines
from floorapp.widgets.shapes import Shape, SignName, shape_of
from floorapp.widgets.strokes import Path
from models.geometry import Point
from models.job.job import Peel


class Sign(Widget):
    """One sign, as large as fits in its box. It takes no touches."""

    name = OptionProperty(SignName.NONE, options=list(SignName))
    ink = ColorProperty()

    def __init__(self, **settings: Any) -> None:
        self._redraw = Clock.create_trigger(self._draw, -1)
        super().__init__(**settings)
        self.bind(name=self._redraw, ink=self._redraw, pos=self._redraw, size=self._redraw)
        self._redraw()

    def _draw(self, _dt: float) -> None:
        self.canvas.clear()
        shape = shape_of(self.name)
        size = min(self.width / shape.width, self.height)
        draw_shape(self.canvas, shape, (self.center_x, self.center_y), size, self.ink)


class Thermometer(BoxLayout):
    """How a piece is peeled: full for hot, half for warm, empty for cold, and the word beside it."""

    peel = ObjectProperty(Peel.NONE)
    ink = ColorProperty()


class SignLine(BoxLayout):
    """A sign and the words beside it."""

    name = OptionProperty(SignName.NONE, options=list(SignName))
    words = StringProperty()
    ink = ColorProperty()


def draw_shape(canvas: Any, shape: Shape, centre: Point, size_px: float, ink: Colour) -> None:
    """Draws a sign of the given size around a centre."""
    left, bottom = centre[0] - size_px / 2, centre[1] - size_px / 2
    width = max(2.0, size_px * shape.line)

    def placed(paths: tuple[Path, ...]) -> list[list[Point]]:
        return [[(left + x * size_px, bottom + y * size_px) for x, y in path] for path in paths]

    for area in placed(shape.fills):
        draw_fill(canvas, [area], ink)
    draw_lines(canvas, placed(shape.loops), width, ink, closed=True)
    draw_lines(canvas, placed(shape.lines), width, ink)


load_kv_beside(__file__)
