"""Boxes that tell: a bar with the title, a setting, a group of lines, a caution."""

from math import ceil
from typing import Any

from kivy.properties import BooleanProperty, ColorProperty, ObjectProperty, OptionProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.gridlayout import GridLayout

from floorapp import theme
from floorapp.kivy_setup import load_kv_beside
from floorapp.palette import INK, PAPER
from floorapp.views import Group, Header, Line, Setting, Tone
from floorapp.widgets import signs, words  # noqa: F401  (their kv rules are used in ours)
from floorapp.widgets.garment_bar import GarmentBar
from floorapp.widgets.keeping import keep_filled
from floorapp.widgets.shapes import TONE_SIGNS, SignName

SETTING_MM = 19.0
"""The least width of a setting: no word that it tells is longer."""


class TopBar(BoxLayout):
    """The head of a screen: the garment that it is about, or else its title."""

    header = ObjectProperty(Header("", ""), rebind=True)

    def on_kv_post(self, _base: Any) -> None:
        self.bind(header=self._show)
        self._show()

    def _show(self, *_: Any) -> None:
        kind = TitleBar if self.header.garment is None else GarmentBar
        if not self.children or type(self.children[0]) is not kind:
            self.clear_widgets()
            self.add_widget(kind(header=self.header))
        self.children[0].header = self.header


class TitleBar(BoxLayout):
    """The title of the screen at the left, station, person and time at the right."""

    header = ObjectProperty(Header("", ""), rebind=True)


class Panel(BoxLayout):
    """A ruled box for whatever stands in it, one below the other."""

    ground = ColorProperty(PAPER)
    edge = ColorProperty(INK)


class SettingBox(Panel):
    """One large value and a few words under it; washed in the signal colour where it must be noticed."""

    setting = ObjectProperty(Setting("", ""), rebind=True)
    is_narrow = BooleanProperty(False)


class SettingGrid(GridLayout):
    """The settings of a hit, equally high in a row; two rows where one would part their words. More than two
    are written smaller.
    """

    settings = ObjectProperty(())

    def on_kv_post(self, _base: Any) -> None:
        self.bind(settings=self._fill)
        self._fill()

    def _fill(self, *_: Any) -> None:
        keep_filled(self, self.settings, lambda setting: SettingBox(setting=setting), "setting")
        for box in self.children:
            box.is_narrow = len(self.settings) > 2


def columns_of(settings: int, width_px: float, gap_px: float) -> int:
    """How many stand side by side: all, or else equally many in as few rows as are wide enough."""
    most = max(1, int((width_px + gap_px) // (theme.px(SETTING_MM) + gap_px)))
    rows = max(1, ceil(settings / most))
    return max(2, ceil(settings / rows))


class GroupBox(BoxLayout):
    """A heading and its lines in a box whose broad left edge has the colour of the condition.

    A heading that wants attention has the sign of it; all others say in words what they are.
    """

    group = ObjectProperty(Group("", ()), rebind=True)
    sign = OptionProperty(SignName.NONE, options=list(SignName))

    def on_kv_post(self, _base: Any) -> None:
        self.bind(group=self._fill)
        self._fill()

    def _fill(self, *_: Any) -> None:
        wants_attention = self.group.tone == Tone.ATTENTION and self.group.heading
        self.sign = TONE_SIGNS[self.group.tone] if wants_attention else SignName.NONE
        keep_filled(self.ids.lines, self.group.lines, lambda line: LineRow(line=line), "line")


class LineRow(BoxLayout):
    """One line of a group, with the thermometer before it where it is about a peel."""

    line = ObjectProperty(Line(""), rebind=True)

    def on_kv_post(self, _base: Any) -> None:
        self._glyph: Any = None
        self.bind(line=self._show)
        self._show()

    def _show(self, *_: Any) -> None:
        if self.line.peel is None and self._glyph is not None:
            self.remove_widget(self._glyph)
            self._glyph = None
        elif self.line.peel is not None and self._glyph is None:
            self._glyph = signs.Thermometer(peel=self.line.peel, pos_hint={"center_y": 0.5})
            self.add_widget(self._glyph, index=len(self.children))
        elif self.line.peel is not None:
            self._glyph.peel = self.line.peel


class CautionLine(BoxLayout):
    """What can hurt, in a line."""

    words = StringProperty()


class ToneLabel(BoxLayout):
    """A condition in one word, with its sign and its colour."""

    tone = OptionProperty(Tone.PLAIN, options=list(Tone))
    words = StringProperty()


load_kv_beside(__file__)
