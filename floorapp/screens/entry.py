"""The screens of large keys: a tag's code, or the seconds of a hit that was opened early."""

from typing import Any

from kivy.properties import BooleanProperty, ObjectProperty, StringProperty

from floorapp.kivy_setup import load_kv_beside
from floorapp.screens.parts import FloorScreen
from floorapp.screens.presenter import EntryView
from floorapp.views import Action, Header, Tap
from floorapp.widgets import cards, key_pad  # noqa: F401  (their kv rules are used in ours)

BACK = Action(Tap.BACK)


class EntryScreen(FloorScreen):
    """`is_digits` decides between the two; what was typed leaves by `on_typed`."""

    header = ObjectProperty(Header("", ""), rebind=True)
    heading = StringProperty()
    body = StringProperty()
    is_digits = BooleanProperty(False)

    def show(self, view: EntryView) -> None:
        self.header, self.heading, self.body = view.header, view.heading, view.body

    def typed(self, text: str) -> None:
        self.dispatch("on_typed", text)

    def on_pre_enter(self, *_: Any) -> None:
        self.ids.key_pad.typed = ""

    def finish(self) -> None:
        self.ids.key_pad.finish()

    def back(self) -> None:
        self.ask(BACK)


load_kv_beside(__file__)
