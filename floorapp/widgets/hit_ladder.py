"""The hits of a garment as a ladder: done, in hand with a box to tick, to come."""

from typing import Any

from kivy.clock import Clock
from kivy.properties import BooleanProperty, ObjectProperty, OptionProperty
from kivy.uix.scrollview import ScrollView

from floorapp.kivy_setup import load_kv_beside
from floorapp.palette import DONE, FAINT_INK, GROUND, INK, PAPER
from floorapp.widget_views import Rung, RungState
from floorapp.widgets.buttons import Tappable
from floorapp.widgets.drawing import draw_dashed
from floorapp.widgets.keeping import keep_filled
from floorapp.widgets.shapes import SignName

GROUNDS = {RungState.DONE: DONE, RungState.CURRENT: INK, RungState.TO_COME: GROUND}
INKS = {RungState.DONE: PAPER, RungState.CURRENT: PAPER, RungState.TO_COME: FAINT_INK}


class HitLadder(ScrollView):
    """Upright at the left, or a strip from left to right; dispatches `on_tick` for the rung in hand."""

    rungs = ObjectProperty(())
    is_upright = BooleanProperty(True)

    __events__ = ("on_tick",)

    def __init__(self, **settings: Any) -> None:
        self._find_current = Clock.create_trigger(self._show_current)
        super().__init__(**settings)

    def on_kv_post(self, _base: Any) -> None:
        self.bind(rungs=self._fill, size=self._find_current, is_upright=self._find_current)
        self._fill()

    def on_tick(self) -> None:
        """The default handler does nothing; owners bind to the event."""

    def boxes(self) -> list["RungBox"]:
        """The rungs from the first hit to the last."""
        return list(reversed(self.ids.rail.children))

    def _fill(self, *_: Any) -> None:
        keep_filled(self.ids.rail, self.rungs, self._made, "rung")
        self._find_current()

    def _made(self, rung: Rung) -> "RungBox":
        box = RungBox(rung=rung)
        box.bind(on_tap=lambda *_: self.dispatch("on_tick"))
        return box

    def _show_current(self, _dt: float) -> None:
        current = [box for box in self.boxes() if box.rung.state == RungState.CURRENT]
        rail = self.ids.rail
        if current and (rail.height > self.height or rail.width > self.width):
            self.scroll_to(current[0], animate=False)


class RungBox(Tappable):
    """One hit; it takes a tap only while it can be ticked."""

    rung = ObjectProperty(Rung("", "", RungState.TO_COME), rebind=True)
    sign = OptionProperty(SignName.NONE, options=list(SignName))

    def __init__(self, **settings: Any) -> None:
        self._redraw = Clock.create_trigger(self._draw_dashes, -1)
        super().__init__(**settings)
        self.bind(pos=self._redraw, size=self._redraw, rung=self._show)
        self._show()

    def _show(self, *_: Any) -> None:
        state = self.rung.state
        self.disabled = not self.rung.can_tick
        self.ground, self.ink = GROUNDS[state], INKS[state]
        self.edge = GROUND if state == RungState.TO_COME else GROUNDS[state]
        self.sign = SignName.TICK if state == RungState.DONE else SignName.BOX if self.rung.can_tick else ""
        self._redraw()

    def _draw_dashes(self, _dt: float) -> None:
        self.canvas.after.clear()
        if self.rung.state != RungState.TO_COME:
            return
        corners = [(self.x + 2, self.y + 2), (self.right - 2, self.y + 2)]
        corners += [(self.right - 2, self.top - 2), (self.x + 2, self.top - 2)]
        draw_dashed(self.canvas.after, corners, 2, FAINT_INK, dash_px=7, gap_px=5, closed=True)


load_kv_beside(__file__)
