"""Text on the screen, in the sizes of the type scale."""

from typing import Any

from kivy.properties import StringProperty
from kivy.uix.label import Label

from floorapp.kivy_setup import load_kv_beside
from floorapp.lettering import fitted


class Text(Label):
    """Text of any script. Set `words`, not `text`."""

    words = StringProperty()

    def __init__(self, **settings: Any) -> None:
        super().__init__(**settings)
        self.bind(words=self._fit, bold=self._fit)
        self._fit()

    def _fit(self, *_: Any) -> None:
        self.text, self.markup = fitted(self.words, bold=self.bold, again=self._fit)


class Tag(Text):
    """A few words in one line, as wide as they are."""


class Words(Text):
    """Words that wrap to their width, and are as high as they need."""


class Heading(Words):
    """What this screen or card is about."""


class Strong(Words):
    """A line that leads the ones below it."""


class Small(Words):
    """Words that help but are not needed to do the work."""


class Value(Words):
    """A setting, as large as it can be read across the press."""


load_kv_beside(__file__)
