"""The Why screen: the reasons and the heat of the hit in hand, or of one that is planned."""

from kivy.properties import ObjectProperty, StringProperty

from floorapp.kivy_setup import load_kv_beside
from floorapp.screens.parts import FloorScreen
from floorapp.screens.why_presenter import WhyView
from floorapp.views import Action, Button, Header, Tap, Tone
from floorapp.widget_views import CurveView
from floorapp.widgets import cards, heat_curve, placement_map  # noqa: F401  (their kv rules are used in ours)

NO_CURVE = CurveView("", Tone.PLAIN)


class WhyScreen(FloorScreen):
    header = ObjectProperty(Header("", ""), rebind=True)
    map = ObjectProperty(None, allownone=True)
    heading = StringProperty()
    groups = ObjectProperty(())
    curves = ObjectProperty((NO_CURVE, NO_CURVE))
    caution = StringProperty()
    back = ObjectProperty(Button("Back", Action(Tap.BACK)))

    def show(self, view: WhyView) -> None:
        self.header, self.map, self.heading = view.header, view.map, view.heading
        self.groups, self.curves, self.caution = view.groups, view.curves, view.caution


load_kv_beside(__file__)
