"""A list that may be longer than its place: it says so at its foot, for who does not see its thin bar."""

from typing import Any

from kivy.clock import Clock
from kivy.graphics import InstructionGroup
from kivy.properties import BooleanProperty
from kivy.uix.recycleview import RecycleView
from kivy.uix.scrollview import ScrollView

from floorapp import theme
from floorapp.kivy_setup import load_kv_beside
from floorapp.palette import INK, PAPER
from floorapp.widgets.drawing import draw_fill, draw_words, words_texture
from floorapp.widgets.map_scale import corners
from models.geometry import Box

SIGN_MM = 6.0
MORE = "more below"


class LongList(ScrollView):
    """Scrolls up and down. While it goes on below, a sign at its foot says so, and a tap on the sign turns to
    what is there.
    """

    goes_on = BooleanProperty(False)
    scroll_y: float  # Kivy's own

    def __init__(self, **settings: Any) -> None:
        self._redraw = Clock.create_trigger(self._draw, -1)
        super().__init__(**settings)
        self._sign = InstructionGroup()
        self.canvas.after.add(self._sign)
        self.bind(goes_on=self._redraw, pos=self._redraw, size=self._redraw)

    @property
    def sign_px(self) -> float:
        """How much of the list's foot the sign covers."""
        return theme.px(SIGN_MM) if self.goes_on else 0.0

    def simulate_touch_down(self, touch: Any) -> bool:
        """A tap on the sign never reaches what the sign lies on."""
        if not self.y <= touch.y < self.y + self.sign_px:
            return bool(super().simulate_touch_down(touch))
        self._scroll_by(self.height - self.sign_px)
        return True

    def scroll_to(
        self,
        widget: Any,
        padding: float = 0,
        animate: bool = False,  # noqa: ARG002  (Kivy's own method takes it; here it always jumps)
    ) -> None:
        """Until all of it is seen, the sign not lying on it either."""
        low, high = (widget.to_window(0, edge)[1] for edge in (widget.y, widget.top))
        foot, top = self.to_window(0, self.y)[1] + self.sign_px, self.to_window(0, self.top)[1]
        if low < foot + padding:
            self._scroll_by(foot + padding - low)
        elif high > top - padding:
            self._scroll_by(top - padding - high)

    def _scroll_by(self, down_px: float) -> None:
        _, share = self.convert_distance_to_scroll(0, down_px)
        self.scroll_y = min(1, max(0, self.scroll_y - share))

    def _draw(self, _dt: float) -> None:
        self._sign.clear()
        if self.goes_on:
            draw_sign(self._sign, Box(self.x, self.y, self.width, self.sign_px))


class LongTable(LongList, RecycleView):
    """The same for very many rows, of which only those that are seen exist."""


def draw_sign(canvas: Any, plate: Box) -> None:
    """An arrow downwards and the words beside it, in the middle of a dark plate."""
    words = words_texture(MORE, theme.px(theme.BODY_MM), bold=True)
    side, gap = theme.px(2.2), theme.px(1.4)
    left, middle = plate.centre[0] - (side + gap + words.width) / 2, plate.centre[1]
    foot, top = middle - side / 2, middle + side / 2
    draw_fill(canvas, [corners(plate)], INK)
    draw_fill(canvas, [((left, top), (left + side, top), (left + side / 2, foot))], PAPER)
    draw_words(canvas, words, left + side + gap, middle - words.height / 2, PAPER)


load_kv_beside(__file__)
