"""The hits of a garment as a ladder: done, in hand with a box to tick, to come."""

from typing import Any

from kivy.clock import Clock
from kivy.properties import BooleanProperty, ObjectProperty, OptionProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from floorapp.kivy_setup import load_kv_beside
from floorapp.palette import DONE, FAINT_INK, GROUND, HELD, INK, PAPER
from floorapp.widget_views import Rung, RungState
from floorapp.widgets.buttons import Tappable
from floorapp.widgets.drawing import draw_dashed
from floorapp.widgets.keeping import keep_filled
from floorapp.widgets.shapes import SignName
from floorapp.widgets.words import Text

GROUNDS = {
    RungState.DONE: DONE,
    RungState.FAULTY: HELD,
    RungState.CURRENT: INK,
    RungState.TO_COME: GROUND,
}
INKS = dict.fromkeys(RungState, PAPER) | {RungState.TO_COME: FAINT_INK}
SIGNS = {RungState.DONE: SignName.TICK, RungState.FAULTY: SignName.CROSS}


class HitLadder(BoxLayout):
    """Upright at the left, or a strip from left to right; dispatches `on_tick` for the rung in hand.

    A ladder that is longer than its place is scrolled to the rung in hand, and says how many it hides.
    """

    rungs = ObjectProperty(())
    is_upright = BooleanProperty(True)
    is_long = BooleanProperty(False)
    before = StringProperty()
    after = StringProperty()

    __events__ = ("on_tick",)

    def __init__(self, **settings: Any) -> None:
        self._measure = Clock.create_trigger(self._look_at_the_length)
        self._find_current = Clock.create_trigger(self._show_current)
        self._count = Clock.create_trigger(self._count_hidden)
        super().__init__(**settings)

    def on_kv_post(self, _base: Any) -> None:
        scroll, rail = self.ids.scroll, self.ids.rail
        self.bind(rungs=self._fill, size=self._measure, is_upright=self._measure)
        rail.bind(size=self._measure)
        scroll.bind(size=self._find_current, scroll_x=self._count, scroll_y=self._count)
        self.bind(is_upright=self._turn)
        self._fill()

    def on_tick(self) -> None:
        """The default handler does nothing; owners bind to the event."""

    def boxes(self) -> list["RungBox"]:
        """The rungs from the first hit to the last."""
        return list(reversed(self.ids.rail.children))

    def hidden(self) -> tuple[int, int]:
        """How many rungs before the first one that is seen, and how many after the last one."""
        scroll, rail = self.ids.scroll, self.ids.rail
        if self.is_upright:
            bottom = rail.y + scroll.scroll_y * (rail.height - scroll.height)
            places = [bottom + scroll.height - box.center_y for box in self.boxes()]
            return sum(place < 0 for place in places), sum(place > scroll.height for place in places)
        left = rail.x + scroll.scroll_x * (rail.width - scroll.width)
        places = [box.center_x - left for box in self.boxes()]
        return sum(place < 0 for place in places), sum(place > scroll.width for place in places)

    def _fill(self, *_: Any) -> None:
        keep_filled(self.ids.rail, self.rungs, self._made, "rung")
        self._measure()

    def _turn(self, *_: Any) -> None:
        for box in self.boxes():
            box.is_upright = self.is_upright

    def _made(self, rung: Rung) -> "RungBox":
        box = RungBox(rung=rung, is_upright=self.is_upright)
        box.bind(on_tap=lambda *_: self.dispatch("on_tick"))
        return box

    def _look_at_the_length(self, _dt: float) -> None:
        rail = self.ids.rail
        self.is_long = rail.height > self.height if self.is_upright else rail.width > self.width
        self._find_current()

    def _show_current(self, _dt: float) -> None:
        current = [box for box in self.boxes() if box.rung.state == RungState.CURRENT]
        if current and self.is_long:
            self.ids.scroll.scroll_to(current[0], animate=False)
        self._count()

    def _count_hidden(self, _dt: float) -> None:
        before, after = self.hidden() if self.is_long else (0, 0)
        self.before = f"{before} before" if before else ""
        self.after = f"{after} more" if after else ""


class HiddenRungs(Text):
    """Where a long ladder says how many rungs go on out of sight."""

    is_upright = BooleanProperty(True)
    has_place = BooleanProperty(False)


class RungBox(Tappable):
    """One hit; it takes a tap only while it can be ticked."""

    rung = ObjectProperty(Rung("", "", RungState.TO_COME), rebind=True)
    sign = OptionProperty(SignName.NONE, options=list(SignName))
    is_upright = BooleanProperty(True)

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
        self.sign = SIGNS.get(state, SignName.BOX if self.rung.can_tick else SignName.NONE)
        self._redraw()

    def _draw_dashes(self, _dt: float) -> None:
        self.canvas.after.clear()
        if self.rung.state != RungState.TO_COME:
            return
        corners = [(self.x + 2, self.y + 2), (self.right - 2, self.y + 2)]
        corners += [(self.right - 2, self.top - 2), (self.x + 2, self.top - 2)]
        draw_dashed(self.canvas.after, corners, 2, FAINT_INK, dash_px=7, gap_px=5, closed=True)


load_kv_beside(__file__)
