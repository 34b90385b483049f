"""Large keys with letters, for names: no system keyboard is ever needed."""

from typing import Any

from kivy.properties import BooleanProperty
from kivy.uix.gridlayout import GridLayout

from floorapp import theme
from floorapp.kivy_setup import load_kv_beside
from floorapp.typed_text import KEY_ACCENT, KEY_BACK, KEY_CASE
from floorapp.widgets.key_pad import BackKey, Key

CHARACTERS = "1234567890ABCDEFGHIJKLMNOPQRSTUVWXYZ-'"
SPACE_WORDS = "space"


class LetterPad(GridLayout):
    """A key for each character; dispatches `on_key` with it. For a name it has keys for case and accents."""

    is_name = BooleanProperty(False)

    __events__ = ("on_key",)

    def on_kv_post(self, _base: Any) -> None:
        self.bind(is_name=self._build)
        self._build()

    def on_key(self, key: str) -> None:
        """The default handler does nothing; owners bind to the event."""

    def columns_in(self, width_px: float) -> int:
        """How many keys stand side by side: at most ten, and as many as are large enough."""
        step = theme.px(theme.TARGET_MM) + self.spacing[0]
        return max(1, min(10, int((width_px + self.spacing[0]) // step)))

    def _build(self, *_: Any) -> None:
        self.clear_widgets()
        named = (KEY_CASE, KEY_ACCENT) if self.is_name else ()
        for key in (*CHARACTERS, *named):
            self._add(Key(words=key), key)
        self._add(Key(words=SPACE_WORDS), " ")
        self._add(BackKey(), KEY_BACK)

    def _add(self, widget: Any, key: str) -> None:
        widget.bind(on_tap=lambda _: self.dispatch("on_key", key))
        self.add_widget(widget)


load_kv_beside(__file__)
