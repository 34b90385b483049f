"""The Reason screen: why a garment is held or spoiled."""

from kivy.properties import ObjectProperty, StringProperty

from floorapp.kivy_setup import load_kv_beside
from floorapp.screens.parts import FloorScreen
from floorapp.screens.reason_presenter import ReasonView
from floorapp.views import Header
from floorapp.widgets import cards  # noqa: F401  (its kv rules are used in ours)


class ReasonScreen(FloorScreen):
    header = ObjectProperty(Header("", ""), rebind=True)
    heading = StringProperty()
    told = StringProperty()
    reasons = ObjectProperty(())
    ends = ObjectProperty(())
    primary = ObjectProperty(None, allownone=True)

    def show(self, view: ReasonView) -> None:
        self.header, self.heading, self.told = view.header, view.heading, view.told
        self.reasons, self.ends, self.primary = view.reasons, view.ends, view.primary


load_kv_beside(__file__)
