"""Large keys of our own, for a tag's code or a number of seconds: no system keyboard is ever needed."""

from typing import Any

from kivy.properties import BooleanProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from floorapp import theme
from floorapp.kivy_setup import load_kv_beside
from floorapp.widgets import cards  # noqa: F401  (its kv rules are used in ours)
from floorapp.widgets.buttons import Tappable
from models.tags.code import ALPHABET, CODE_LENGTH, SPOKEN_GROUP

DIGITS = ("1", "2", "3", "4", "5", "6", "7", "8", "9", "", "0")
"""As on a telephone; the empty place is the key that takes back."""
CODE_KEYS = (*ALPHABET, "")
SECONDS_LENGTH = 5
"""A press that was forgotten for a night was closed for some 50,000 s, and that is the true answer."""


class KeyPad(BoxLayout):
    """Keys for the characters that a code can have, or for digits; dispatches `on_done` with the text."""

    is_digits = BooleanProperty(False)
    done_words = StringProperty("Open it")
    typed = StringProperty()
    shown = StringProperty()

    __events__ = ("on_done",)

    def on_kv_post(self, _base: Any) -> None:
        self.bind(is_digits=self._begin_anew, typed=self._show)
        self._build()

    def on_done(self, text: str) -> None:
        """The default handler does nothing; owners bind to the event."""

    @property
    def longest(self) -> int:
        return SECONDS_LENGTH if self.is_digits else CODE_LENGTH

    def type(self, character: str) -> None:
        """Adds a character, as its key does; what is too long is left out."""
        if len(self.typed) < self.longest:
            self.typed += character

    def take_back(self) -> None:
        self.typed = self.typed[:-1]

    def finish(self) -> None:
        """Hands the text on, if there is any, and begins anew."""
        if self.typed:
            text, self.typed = self.typed, ""
            self.dispatch("on_done", text)

    def _begin_anew(self, *_: Any) -> None:
        self.typed = ""
        self._build()

    def _build(self) -> None:
        self.ids.grid.clear_widgets()
        for character in DIGITS if self.is_digits else CODE_KEYS:
            self.ids.grid.add_widget(self._key(character))
        self._show()

    def _key(self, character: str) -> Tappable:
        if character:
            key: Tappable = Key(words=character)
            key.bind(on_tap=lambda _: self.type(character))
        else:
            key = BackKey()
            key.bind(on_tap=lambda _: self.take_back())
        return key

    def _show(self, *_: Any) -> None:
        blanks = "–" * (self.longest - len(self.typed))
        self.shown = grouped(self.typed if self.is_digits else self.typed + blanks)


class Key(Tappable):
    """One character."""

    words = StringProperty()


class BackKey(Tappable):
    """Takes the last character back."""


def columns_in(width_px: float, gap_px: float) -> int:
    """How many keys stand side by side: as many as fit, of those that fill whole rows with a code's keys."""
    return next((n for n in (8, 6, 4) if n * theme.px(theme.TARGET_MM) + (n - 1) * gap_px <= width_px), 3)


def grouped(text: str) -> str:
    """The text in groups of four, as a code is read aloud."""
    groups = [text[k : k + SPOKEN_GROUP] for k in range(0, len(text), SPOKEN_GROUP)]
    return " ".join(groups)


load_kv_beside(__file__)
