"""The Kivy app: a window that shows it is opening, and then the desk."""

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
from floorapp.widgets import words  # noqa: F401  (its kv rules are used in ours)


class OpeningScreen(BoxLayout):
    """What is seen while the shop's record is being opened."""


class PressFloorApp(App):
    """Only wires: the flow decides, the screens draw."""

    title = "Press floor"
    use_kivy_settings = False

    def __init__(self, opening: Opening, sounds: Sounds) -> None:
        super().__init__()
        self.opening = opening
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
        if self.desk is not None:
            self.desk.close()

    def _look_whether_open(self, _dt: float) -> None:
        if not self.opening.is_over:
            return
        self._waiting.cancel()
        from floorapp.desk import Desk

        self.desk = Desk(self.opening.result(), self.holder, self.sounds)


load_kv_beside(__file__)
