"""Keys reach everything: a heavy frame moves from target to target, and Enter acts on the framed one."""

from collections.abc import Callable
from typing import Any

from kivy.graphics import Color, InstructionGroup, Line
from kivy.metrics import mm
from kivy.properties import BooleanProperty
from kivy.uix.scrollview import ScrollView

from floorapp.palette import ATTENTION, INK
from floorapp.theme import FOCUS_MM


class Focusable:
    """Mixed into every widget that can be tapped. Its frame is drawn only while it has the focus."""

    is_focused = BooleanProperty(False)
    disabled: Any  # the widget's own

    def activate(self) -> None:
        """Does what a tap would do."""
        self.dispatch("on_tap")  # type: ignore[attr-defined]  # the widget it is mixed into has it

    def on_is_focused(self: Any, *_: Any) -> None:
        if self.is_focused:
            self._frame = InstructionGroup()
            self.canvas.after.add(self._frame)
            self.bind(pos=self._draw_frame, size=self._draw_frame)
            self._draw_frame()
        else:
            self.unbind(pos=self._draw_frame, size=self._draw_frame)
            self.canvas.after.remove(self._frame)

    def _draw_frame(self: Any, *_: Any) -> None:
        """Ink outside, the signal colour inside: to be seen on any ground."""
        self._frame.clear()
        for colour, width in ((INK, mm(FOCUS_MM)), (ATTENTION, mm(FOCUS_MM) / 2)):
            self._frame.add(Color(*colour))
            self._frame.add(Line(rectangle=(*self.pos, *self.size), width=width, joint="miter"))


def bring_into_view(target: Any) -> None:
    """Scrolls the lists around a target until it is seen."""
    around = target.parent
    while around is not None and around.parent is not around:  # the window is its own parent
        if isinstance(around, ScrollView):
            around.scroll_to(target, padding=mm(FOCUS_MM), animate=False)
        around = around.parent


class FocusRing:
    """Moves the frame through what the current screen offers, in the order in which it was built."""

    def __init__(self, find_root: Callable[[], Any]) -> None:
        """`find_root` answers the widget that holds the current screen; it is asked at every move."""
        self._find_root = find_root

    def move(self, steps: int) -> None:
        """Frames a target `steps` further on; the first move frames the first one, or the last."""
        targets = self.targets()
        if not targets:
            return
        at = next((k for k, target in enumerate(targets) if target.is_focused), None)
        place = at + steps if at is not None else (0 if steps > 0 else -1)
        self.clear()
        framed = targets[place % len(targets)]
        framed.is_focused = True
        bring_into_view(framed)

    def activate(self) -> bool:
        """Acts on the framed target; answers whether there was one."""
        framed = next((target for target in self.targets() if target.is_focused), None)
        if framed is not None:
            framed.activate()
        return framed is not None

    def clear(self) -> None:
        """Takes the frame away: the next Enter is the primary action's again."""
        for target in self.targets():
            target.is_focused = False

    def targets(self) -> list[Any]:
        widgets = self._find_root().walk(restrict=True)
        return [widget for widget in widgets if isinstance(widget, Focusable) and not widget.disabled]
