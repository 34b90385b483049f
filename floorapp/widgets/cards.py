"""Boxes that tell: a bar with the title, a setting, a group of lines, a caution."""

from typing import Any

from kivy.properties import ColorProperty, ObjectProperty, OptionProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.gridlayout import GridLayout

from floorapp.kivy_setup import load_kv_beside
from floorapp.palette import INK, PAPER
from floorapp.views import Group, Header, Line, Setting, Tone
from floorapp.widgets import signs, words  # noqa: F401  (their kv rules are used in ours)


class TopBar(BoxLayout):
    """The title of the screen at the left, station, person and time at the right."""

    header = ObjectProperty(Header("", ""), rebind=True)


class Panel(BoxLayout):
    """A ruled box for whatever stands in it, one below the other."""

    ground = ColorProperty(PAPER)
    edge = ColorProperty(INK)


class SettingBox(Panel):
    """One large value and a few words under it; washed in the signal colour where it must be noticed."""

    setting = ObjectProperty(Setting("", ""), rebind=True)


class SettingGrid(GridLayout):
    """The settings of a hit, two or more in a row; those of one row are equally high."""

    settings = ObjectProperty(())

    def on_kv_post(self, _base: Any) -> None:
        self.bind(settings=self._fill)
        self._fill()

    def _fill(self, *_: Any) -> None:
        self.clear_widgets()
        for setting in self.settings:
            self.add_widget(SettingBox(setting=setting))


class GroupBox(BoxLayout):
    """A heading and its lines in a box whose broad left edge has the colour of the condition."""

    group = ObjectProperty(Group("", ()), rebind=True)

    def on_kv_post(self, _base: Any) -> None:
        self.bind(group=self._fill)
        self._fill()

    def _fill(self, *_: Any) -> None:
        self.ids.lines.clear_widgets()
        for line in self.group.lines:
            self.ids.lines.add_widget(LineRow(line=line))


class LineRow(BoxLayout):
    """One line of a group, with the thermometer before it where it is about a peel."""

    line = ObjectProperty(Line(""), rebind=True)

    def on_kv_post(self, _base: Any) -> None:
        if self.line.peel is not None:
            glyph = signs.Thermometer(peel=self.line.peel, pos_hint={"center_y": 0.5})
            self.add_widget(glyph, index=len(self.children))


class CautionLine(BoxLayout):
    """What can hurt, in a line."""

    words = StringProperty()


class ToneLabel(BoxLayout):
    """A condition in one word, with its sign and its colour."""

    tone = OptionProperty(Tone.PLAIN, options=list(Tone))
    words = StringProperty()


load_kv_beside(__file__)
