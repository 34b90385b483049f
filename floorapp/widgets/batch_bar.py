"""How far a batch is, by condition: shares to scale, and under them the sign, count and word of each."""

from typing import Any

from kivy.clock import Clock
from kivy.properties import ObjectProperty
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.widget import Widget

from floorapp import theme
from floorapp.kivy_setup import load_kv_beside
from floorapp.palette import INK, TONES
from floorapp.views import Tone
from floorapp.widget_views import Share
from floorapp.widgets.cards import ToneLabel
from floorapp.widgets.drawing import draw_dashed, draw_fill, draw_words, words_texture
from floorapp.widgets.map_scale import corners
from models.geometry import Box

LEAST_SHARE_MM = 5.5
"""A share of one garment in a thousand still shows its number."""


class BatchBar(BoxLayout):
    """The shares of a batch: a bar, and its legend."""

    shares = ObjectProperty(())

    def on_kv_post(self, _base: Any) -> None:
        self.bind(shares=self._fill)
        self._fill()

    def _fill(self, *_: Any) -> None:
        self.ids.legend.clear_widgets()
        for share in self.shares:
            self.ids.legend.add_widget(ToneLabel(tone=share.tone, words=f"{share.count} {share.word}"))


class ShareBar(Widget):
    """The bar alone."""

    shares = ObjectProperty(())

    def __init__(self, **settings: Any) -> None:
        self._redraw = Clock.create_trigger(self._draw, -1)
        super().__init__(**settings)
        self.bind(shares=self._redraw, pos=self._redraw, size=self._redraw)

    def _draw(self, _dt: float) -> None:
        self.canvas.clear()
        shown = [share for share in self.shares if share.count]
        left = self.x
        for share, width in zip(shown, widths_of(shown, self.width, theme.px(LEAST_SHARE_MM)), strict=True):
            self._draw_share(share, left, width)
            left += width

    def _draw_share(self, share: Share, left: float, width: float) -> None:
        colours = TONES[share.tone]
        if share.tone == Tone.PLAIN:
            box = corners(Box(left + 2, self.y + 1, width - 3, self.height - 2))
            draw_dashed(self.canvas, box, 2, INK, dash_px=7, gap_px=5, closed=True)
        else:
            box = corners(Box(left, self.y, width - 1, self.height))
            draw_fill(self.canvas, [box], colours.block)
        number = words_texture(str(share.count), theme.px(theme.BODY_MM), bold=True)
        draw_words(
            self.canvas, number, left + theme.px(1.4), self.center_y - number.height / 2, colours.on_block
        )


def widths_of(shares: list[Share], width_px: float, least_px: float) -> list[float]:
    """A width for each share, in proportion to its count, none too narrow for its number."""
    spare = width_px - least_px * len(shares)
    total = sum(share.count for share in shares)
    return [least_px + spare * share.count / total for share in shares]


load_kv_beside(__file__)
