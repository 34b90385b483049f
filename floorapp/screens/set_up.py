"""The Set-up screen: a job file becomes a batch with its tags."""

from typing import Any

from kivy.clock import Clock
from kivy.properties import ObjectProperty, StringProperty

from floorapp import theme
from floorapp.kivy_setup import load_kv_beside
from floorapp.screens.parts import FloorScreen
from floorapp.screens.set_up_presenter import HitMapView, SetUpView
from floorapp.views import Action, Header, Tap
from floorapp.widgets import cards, placement_map  # noqa: F401  (their kv rules are used in ours)
from floorapp.widgets.buttons import Tappable

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

    def __init__(self, **settings: Any) -> None:
        self.see_chosen = Clock.create_trigger(self._scroll_to_chosen)
        super().__init__(**settings)

    def show(self, view: SetUpView) -> None:
        self.header, self.folder, self.entries = view.header, view.folder, view.entries
        self.heading, self.body, self.groups = view.heading, view.body, view.groups
        self.maps, self.choices, self.primary = view.maps, view.choices, view.primary
        self.see_chosen()

    def _scroll_to_chosen(self, _dt: float) -> None:
        """The chosen file is seen, also when a notice has taken room from the list."""
        for button in self.ids.entries.children:
            if getattr(button, "is_chosen", False):
                self.ids.rows.scroll_to(button, padding=theme.px(theme.GAP_MM))

    def to_floor(self) -> None:
        self.ask(TO_FLOOR)

    def hit_map(self, hit: HitMapView) -> "HitMap":
        made = HitMap(hit=hit)
        made.bind(on_tap=lambda tapped: self.ask(tapped.hit.action))
        return made


class HitMap(Tappable):
    """One hit of the plan, on its side; a tap tells its reasons and its heat."""

    hit = ObjectProperty(None, rebind=True)


load_kv_beside(__file__)
