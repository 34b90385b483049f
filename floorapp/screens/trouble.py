"""What is seen in place of the desk where the record cannot be opened."""

from typing import Any

from kivy.core.window import Window
from kivy.properties import ObjectProperty
from kivy.uix.boxlayout import BoxLayout

from floorapp.focus import FocusRing
from floorapp.kivy_setup import load_kv_beside
from floorapp.scanner_input import MOVES, PRIMARY
from floorapp.screens import parts  # noqa: F401  (its kv rules are used in ours)
from floorapp.starting import TroubleView
from floorapp.views import Action
from floorapp.widgets import signs  # noqa: F401  (its kv rules are used in ours)


class TroubleScreen(BoxLayout):
    """Why the app cannot start, and the ways on; keys and the foot switch take the primary one."""

    view = ObjectProperty(rebind=True)

    __events__ = ("on_action",)

    def __init__(self, view: TroubleView) -> None:
        super().__init__(view=view)
        self._focus = FocusRing(lambda: self)
        Window.bind(on_key_down=self._key_down)

    def on_action(self, action: Action) -> None:
        """The default handler does nothing; the app binds to the event."""

    def close(self) -> None:
        Window.unbind(on_key_down=self._key_down)

    def ask(self, action: Action) -> None:
        self.dispatch("on_action", action)

    def _key_down(self, _window: Any, _key: int, scancode: int, _text: str, modifiers: list[str]) -> bool:
        if scancode in MOVES:
            self._focus.move(-MOVES[scancode] if "shift" in modifiers else MOVES[scancode])
        elif scancode in PRIMARY and not self._focus.activate():
            self.ask(self.view.primary.action)
        return True  # nothing is left to Kivy's own handling of keys


load_kv_beside(__file__)
