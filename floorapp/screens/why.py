"""The Why screen: the reasons of the hit in hand."""

from kivy.properties import ObjectProperty, StringProperty

from floorapp.kivy_setup import load_kv_beside
from floorapp.screens.parts import FloorScreen
from floorapp.screens.why_presenter import WhyView
from floorapp.views import Action, Button, Group, Header, Line, Tap
from floorapp.widgets import cards, placement_map  # noqa: F401  (their kv rules are used in ours)


class WhyScreen(FloorScreen):
    header = ObjectProperty(Header("", ""), rebind=True)
    map = ObjectProperty(None, allownone=True)
    heading = StringProperty()
    groups = ObjectProperty(())
    back = ObjectProperty(Button("Back", Action(Tap.BACK)))

    def show(self, view: WhyView) -> None:
        self.header, self.map, self.heading = view.header, view.map, view.heading
        self.groups = (Group("", tuple(Line(reason) for reason in view.reasons)),)


load_kv_beside(__file__)
