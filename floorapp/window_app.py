"""The Kivy app: a window that shows it is opening, then the desk, or why it cannot be opened."""

from typing import Any

from kivy.app import App
from kivy.clock import Clock as FrameClock
from kivy.core.window import Window
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.floatlayout import FloatLayout

from floorapp.kivy_setup import load_kv_beside
from floorapp.opening import Opening
from floorapp.palette import GROUND
from floorapp.sounds import Sounds
from floorapp.starting import Start, Way
from floorapp.views import Action
from floorapp.widgets import words  # noqa: F401  (its kv rules are used in ours)


class OpeningScreen(BoxLayout):
    """What is seen while the shop's record is being opened."""


class PressFloorApp(App):
    """Only wires: the flow decides, the screens draw.

    If a `start` is given, a failure is told in the window, with its ways on; else it is raised.
    """

    title = "Press floor"
    use_kivy_settings = False

    def __init__(self, opening: Opening, sounds: Sounds, start: Start | None = None) -> None:
        super().__init__()
        self.opening = opening
        self.start = start
        self.trouble: Any = None
        self.sounds = sounds
        self.desk: Any = None

    def load_config(self) -> None:
        """Kivy would write an ini file beside this module."""

    def open_settings(self, *_: Any) -> bool:
        """Kivy's own settings panel has no place here."""
        return False

    def build(self) -> Any:
        Window.clearcolor = GROUND
        self.holder = FloatLayout()
        self.holder.add_widget(OpeningScreen())
        self._waiting = FrameClock.schedule_interval(self._look_whether_open, 0)
        Window.bind(on_flip=self._first_frame_is_seen)
        return self.holder

    def _first_frame_is_seen(self, *_: Any) -> None:
        Window.unbind(on_flip=self._first_frame_is_seen)
        self.opening.start()

    def on_stop(self) -> None:
        self._waiting.cancel()
        self._leave_trouble()
        if self.desk is not None:
            self.desk.close()

    def _look_whether_open(self, _dt: float) -> None:
        if not self.opening.is_over:
            return
        self._waiting.cancel()
        if self.opening.trouble is not None and self.start is not None:
            self._tell(self.start, self.opening.trouble)
            return
        from floorapp.desk import Desk

        self.desk = Desk(self.opening.result(), self.holder, self.sounds)

    def _tell(self, start: Start, error: Exception) -> None:
        from floorapp.screens.trouble import TroubleScreen

        self.trouble = TroubleScreen(start.trouble(error))
        self.trouble.bind(on_action=lambda _, action: self._go_on(start, action))
        self._show(self.trouble)

    def _go_on(self, start: Start, action: Action) -> None:
        """Take the way that was tapped. The error that is left behind by Quit is raised when the app ends."""
        ways = {Way.AGAIN: start.open, Way.RESTORE: start.open_restored, Way.NEW: start.open_new}
        if action.value == Way.QUIT:
            self.stop()
            return
        self.opening = Opening(ways[Way(action.value)])
        self._leave_trouble()
        self._show(OpeningScreen())
        self._waiting()
        self.opening.start()

    def _leave_trouble(self) -> None:
        if self.trouble is not None:
            self.trouble.close()
            self.trouble = None

    def _show(self, screen: Any) -> None:
        self.holder.clear_widgets()
        self.holder.add_widget(screen)


load_kv_beside(__file__)
