"""An app with an empty screen, for looking at one widget. Imports Kivy: import it late."""

from typing import Any

from kivy.app import App
from kivy.uix.floatlayout import FloatLayout

from floorapp.palette import GROUND


class BareApp(App):
    """Its root is a FloatLayout on the screen's own ground."""

    use_kivy_settings = False

    def load_config(self) -> None:
        """Kivy would write an ini file beside this module."""

    def build(self) -> Any:
        from kivy.core.window import Window

        Window.clearcolor = GROUND
        return FloatLayout()
