"""The Set-up screen: a job file becomes a batch with its tags."""

from kivy.properties import ObjectProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from floorapp.kivy_setup import load_kv_beside
from floorapp.screens.parts import FloorScreen
from floorapp.screens.set_up_presenter import SetUpView
from floorapp.views import Action, Header, Tap
from floorapp.widget_views import MapView
from floorapp.widgets import cards, placement_map  # noqa: F401  (their kv rules are used in ours)

TO_FLOOR = Action(Tap.TO_FLOOR)


class SetUpScreen(FloorScreen):
    header = ObjectProperty(Header("", ""), rebind=True)
    folder = StringProperty()
    entries = ObjectProperty(())
    heading = StringProperty()
    body = StringProperty()
    groups = ObjectProperty(())
    maps = ObjectProperty(())
    choices = ObjectProperty(())
    primary = ObjectProperty(None, allownone=True)

    def show(self, view: SetUpView) -> None:
        self.header, self.folder, self.entries = view.header, view.folder, view.entries
        self.heading, self.body, self.groups = view.heading, view.body, view.groups
        self.maps, self.choices, self.primary = view.maps, view.choices, view.primary

    def to_floor(self) -> None:
        self.ask(TO_FLOOR)


class HitMap(BoxLayout):
    """One hit of the plan, on its side."""

    titled = ObjectProperty(("", None))


def hit_map(titled: tuple[str, MapView]) -> HitMap:
    return HitMap(titled=titled)


load_kv_beside(__file__)
