"""The screen of large keys for a reason that nobody thought of before."""

from kivy.properties import ObjectProperty, StringProperty

from floorapp.kivy_setup import load_kv_beside
from floorapp.screens.parts import FloorScreen
from floorapp.screens.reason_presenter import BACK, ReasonEntryView
from floorapp.views import Action, Header, Tap
from floorapp.widgets import cards, letter_pad  # noqa: F401  (their kv rules are used in ours)


class ReasonEntryScreen(FloorScreen):
    header = ObjectProperty(Header("", ""), rebind=True)
    heading = StringProperty()
    written = StringProperty()
    primary = ObjectProperty(None, allownone=True)

    def show(self, view: ReasonEntryView) -> None:
        self.header, self.heading = view.header, view.heading
        self.written, self.primary = view.typed, view.primary

    def key(self, key: str) -> None:
        self.ask(Action(Tap.KEY, key))

    def back(self) -> None:
        self.ask(BACK.action)


load_kv_beside(__file__)
