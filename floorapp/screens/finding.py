"""The Finding screen: what the check saw, on which pieces, and what is done about it."""

from kivy.properties import ObjectProperty, StringProperty

from floorapp.kivy_setup import load_kv_beside
from floorapp.screens.finding_presenter import FindingView
from floorapp.screens.parts import FloorScreen
from floorapp.views import Action, Header, Tap
from floorapp.widgets import cards, placement_map  # noqa: F401  (their kv rules are used in ours)


class FindingScreen(FloorScreen):
    header = ObjectProperty(Header("", ""), rebind=True)
    map = ObjectProperty(None, allownone=True)
    kinds = ObjectProperty(())
    marked = StringProperty()
    told = StringProperty()
    steps = ObjectProperty(())
    choices = ObjectProperty(())
    ends = ObjectProperty(())
    primary = ObjectProperty(None, allownone=True)

    def show(self, view: FindingView) -> None:
        self.header, self.map, self.kinds = view.header, view.map, view.kinds
        self.marked, self.told = view.marked, view.told
        self.steps, self.choices, self.ends, self.primary = view.steps, view.choices, view.ends, view.primary

    def piece_tapped(self, piece: str) -> None:
        self.ask(Action(Tap.MARK_PIECE, piece))


load_kv_beside(__file__)
