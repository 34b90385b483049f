"""An estimated temperature over time: the likely curve, its hatched band, and the levels that matter."""

from typing import Any

from kivy.clock import Clock
from kivy.properties import ObjectProperty
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.widget import Widget

from floorapp import theme
from floorapp.kivy_setup import load_kv_beside
from floorapp.palette import FAINT_INK, INK, PAPER, RULE, TONES, Colour, paler
from floorapp.views import Tone
from floorapp.widget_views import CurveView
from floorapp.widgets import words  # noqa: F401  (its kv rules are used in ours)
from floorapp.widgets.curve_scale import CurveScale, level_plates, ticks
from floorapp.widgets.drawing import draw_dashed, draw_fill, draw_lines, draw_words, words_texture
from floorapp.widgets.map_scale import corners
from models.geometry import Box
from models.units import celsius_to_fahrenheit

LEFT_MM, FOOT_MM, TOP_MM, RIGHT_MM = 8.0, 9.5, 2.0, 8.0
KEY_MM = 4.6
"""Of the foot, what the key takes that says what line and band are."""
HATCH_MM = 1.4
MOST_DEGREES, MOST_SECONDS = 5, 4
LIKELY, BAND = "likely", "8 in 10"


class HeatCurve(BoxLayout):
    """A heading over its plot, between the units of the two axes: °C at the left, °F at the right."""

    view = ObjectProperty(CurveView("", Tone.PLAIN), rebind=True)


class CurvePlot(Widget):
    """Draws `view`; while it has no points, the words that it waits with. It takes no touches."""

    view = ObjectProperty(CurveView("", Tone.PLAIN))

    def __init__(self, **settings: Any) -> None:
        self._redraw = Clock.create_trigger(self._draw, -1)
        super().__init__(**settings)
        self.bind(view=self._redraw, pos=self._redraw, size=self._redraw)
        self._redraw()

    @property
    def plot(self) -> Box:
        """Where the curve itself is drawn [px, lower left corner]."""
        left, foot = theme.px(LEFT_MM), theme.px(FOOT_MM)
        width = self.width - left - theme.px(RIGHT_MM)
        height = self.height - foot - theme.px(TOP_MM)
        return Box(round(self.x + left), round(self.y + foot), max(1, round(width)), max(1, round(height)))

    @property
    def scale(self) -> CurveScale:
        return CurveScale.fitting(self.view, self.plot)

    def _draw(self, _dt: float) -> None:
        self.canvas.clear()
        draw_fill(self.canvas, [corners(self.plot)], PAPER)
        if self.view.points:
            self._draw_curve(self.view, self.scale)
            self._draw_key(TONES[self.view.tone].line)
        else:
            self._words(self.view.waiting, *self.plot.centre, across=0.5, up=0.5)
        draw_lines(self.canvas, [corners(self.plot)], theme.px(theme.RULE_MM), INK, closed=True)

    def _draw_curve(self, view: CurveView, scale: CurveScale) -> None:
        ink = TONES[view.tone].line
        self._draw_ticks(scale)
        draw_fill(self.canvas, [scale.band_px(view.points)], paler(ink))
        draw_lines(self.canvas, scale.hatching(view.points, theme.px(HATCH_MM)), theme.px(0.25), ink)
        self._draw_levels(view, scale)
        draw_lines(self.canvas, [scale.likely_px(view.points)], theme.px(0.9), ink)

    def _draw_ticks(self, scale: CurveScale) -> None:
        plot, gap = scale.plot, theme.px(0.8)
        for at_c in ticks(scale.lowest_c, scale.highest_c, MOST_DEGREES):
            y = scale.to_px(0, at_c)[1]
            draw_lines(self.canvas, [((plot.x, y), (plot.right, y))], theme.px(0.2), RULE)
            self._words(f"{at_c:.0f}°", plot.x - gap, y, across=1, up=0.5)
            self._words(f"{celsius_to_fahrenheit(at_c):.0f}°", plot.right + gap, y, across=0, up=0.5)
        for at_s in ticks(0, scale.seconds, MOST_SECONDS):
            x = scale.to_px(at_s, scale.lowest_c)[0]
            draw_lines(self.canvas, [((x, plot.y), (x, plot.y - gap))], theme.px(0.3), INK)
            self._words(f"{at_s:.0f} s" if at_s else "0", x, plot.y - gap, across=0.5, up=1)

    def _draw_levels(self, view: CurveView, scale: CurveScale) -> None:
        names = [words_texture(level.words, theme.px(theme.SMALL_MM), bold=True) for level in view.levels]
        long, short = theme.px(1.6), theme.px(0.9)
        for level in view.levels:
            y = scale.to_px(0, level.at_c)[1]
            line = ((scale.plot.x, y), (scale.plot.right, y))
            draw_dashed(self.canvas, line, theme.px(0.35), INK, dash_px=long, gap_px=short, closed=False)
        plates = level_plates(scale, view, [name.size for name in names], theme.px(0.5))
        for name, plate in zip(names, plates, strict=True):
            draw_fill(self.canvas, [corners(plate)], PAPER)
            draw_words(self.canvas, name, plate.x, plate.y, INK)

    def _draw_key(self, ink: Colour) -> None:
        """What the line and the band are, in one row at the foot."""
        y, wide, gap = self.y + theme.px(KEY_MM / 2), theme.px(6), theme.px(1)
        x = float(self.plot.x)
        draw_lines(self.canvas, [((x, y), (x + wide, y))], theme.px(0.9), ink)
        x = self._words(LIKELY, x + wide + gap, y, across=0, up=0.5) + theme.px(4)
        sample = Box(x, y - theme.px(1.4), wide, theme.px(2.8))
        draw_fill(self.canvas, [corners(sample)], paler(ink))
        step = theme.px(HATCH_MM)
        upright = [[(at, sample.y), (at, sample.bottom)] for at in (x, x + step, x + 2 * step, x + 3 * step)]
        draw_lines(self.canvas, upright, theme.px(0.25), ink)
        self._words(BAND, sample.right + gap, y, across=0, up=0.5)

    def _words(self, text: str, x: float, y: float, *, across: float, up: float) -> float:
        """Words whose point (`across`, `up`), as shares of their box, is at x, y; answers where they end."""
        texture = words_texture(text, theme.px(theme.SMALL_MM))
        left = x - across * texture.width
        draw_words(self.canvas, texture, left, y - up * texture.height, FAINT_INK)
        return left + float(texture.width)


load_kv_beside(__file__)
