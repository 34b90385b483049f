"""The Change screen: what a garment or a batch is, and what can be done about it."""

from kivy.properties import ObjectProperty, StringProperty

from floorapp.kivy_setup import load_kv_beside
from floorapp.screens.change_presenter import BACK, ChangeView
from floorapp.screens.parts import FloorScreen
from floorapp.views import Header
from floorapp.widgets import cards  # noqa: F401  (its kv rules are used in ours)


class ChangeScreen(FloorScreen):
    """What is told stands at the left, what can be done at the right."""

    header = ObjectProperty(Header("", ""), rebind=True)
    heading = StringProperty()
    body = StringProperty()
    groups = ObjectProperty(())
    answers = ObjectProperty(())
    primary = ObjectProperty(BACK)
    back = ObjectProperty(BACK)

    def show(self, view: ChangeView) -> None:
        self.header, self.heading, self.body = view.header, view.heading, view.body
        self.groups, self.answers, self.primary = view.groups, view.answers, view.primary


load_kv_beside(__file__)
