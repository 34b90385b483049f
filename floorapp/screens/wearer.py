"""The screen of large keys for a wearer's name and number, and for the size of a new garment."""

from kivy.properties import ObjectProperty

from floorapp.kivy_setup import load_kv_beside
from floorapp.screens.change_presenter import BACK
from floorapp.screens.parts import FloorScreen
from floorapp.screens.wearer_presenter import WearerView
from floorapp.views import Action, Header, Tap
from floorapp.widgets import cards, letter_pad  # noqa: F401  (their kv rules are used in ours)


class WearerScreen(FloorScreen):
    header = ObjectProperty(Header("", ""), rebind=True)
    fields = ObjectProperty(())
    sizes = ObjectProperty(())
    primary = ObjectProperty(BACK)

    def show(self, view: WearerView) -> None:
        self.header, self.fields = view.header, view.fields
        self.sizes, self.primary = view.sizes, view.primary

    def key(self, key: str) -> None:
        self.ask(Action(Tap.KEY, key))

    def back(self) -> None:
        self.ask(BACK.action)


load_kv_beside(__file__)
