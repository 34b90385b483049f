"""The head of a garment's screens: whose it is, to be read before a name or a number is laid."""

from typing import Any

from kivy.core.text import Label as CoreLabel
from kivy.metrics import mm
from kivy.properties import BooleanProperty, NumericProperty, ObjectProperty
from kivy.uix.boxlayout import BoxLayout

from floorapp import theme
from floorapp.kivy_setup import load_kv_beside
from floorapp.views import GarmentName, Header
from floorapp.widgets.words import Tag, Words

MOST_LINES = 3
"""A name that needs more lines than this is written smaller."""
LONG_NUMBER = 8
"""The characters of "No 12345": a longer number is written smaller."""


class GarmentBar(BoxLayout):
    """Number and wearer large; size, code, place and batch small; then the station and the time."""

    header = ObjectProperty(Header("", "", GarmentName("", "", "", "")), rebind=True)
    is_narrow = BooleanProperty(False)


class WearerNumber(Tag):
    """The wearer's number, in a block of its own."""


class WearerName(Words):
    """A name that is never cut: it wraps, and a very long one is written smaller."""

    largest_mm = NumericProperty(theme.NAME_MM)

    def __init__(self, **settings: Any) -> None:
        super().__init__(**settings)
        self.bind(words=self._size, width=self._size, largest_mm=self._size)
        self._size()

    def _size(self, *_: Any) -> None:
        sizes = (self.largest_mm, theme.LEAST_NAME_MM)
        self.font_size = mm(name_size(self.words, self.width, sizes))


def name_size(words: str, width_px: float, sizes_mm: tuple[float, float]) -> float:
    """Return the font size [mm] of a name: the first of two with which it stands in one line, or else the
    second with which it needs few lines; the theme's strong size if it needs more.
    """
    large, small = sizes_mm
    if _width_px(words, large) <= width_px:
        return large
    return small if _width_px(words, small) <= MOST_LINES * 0.9 * width_px else theme.STRONG_MM


def _width_px(words: str, size_mm: float) -> float:
    label = CoreLabel(font_name=theme.FACE, bold=True, font_size=mm(size_mm))
    return float(label.get_extents(words)[0])


load_kv_beside(__file__)
