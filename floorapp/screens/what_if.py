"""The What-if screen: a plan hit by hit, tried with another platen, other numbers, a piece elsewhere."""

from kivy.properties import ObjectProperty, StringProperty

from floorapp.kivy_setup import load_kv_beside
from floorapp.screens.parts import FloorScreen
from floorapp.screens.what_if_presenter import WhatIfView
from floorapp.views import Action, Header, Tap
from floorapp.widgets import cards, placement_map  # noqa: F401  (their kv rules are used in ours)


class WhatIfScreen(FloorScreen):
    header = ObjectProperty(Header("", ""), rebind=True)
    map = ObjectProperty(None, allownone=True)
    hit = StringProperty()
    heading = StringProperty()
    totals = StringProperty()
    turns = ObjectProperty(())
    kept = StringProperty()
    news = ObjectProperty(())
    groups = ObjectProperty(())
    subjects = ObjectProperty(())
    steps = ObjectProperty(())
    choices = ObjectProperty(())
    primary = ObjectProperty(None, allownone=True)

    def show(self, view: WhatIfView) -> None:
        self.header, self.map, self.hit, self.turns = view.header, view.map, view.hit, view.turns
        self.heading, self.totals = view.heading, view.totals
        self.kept, self.news = view.kept, view.news
        self.groups, self.subjects, self.steps = view.groups, view.subjects, view.steps
        self.choices, self.primary = view.choices, view.primary

    def piece_tapped(self, piece: str) -> None:
        self.ask(Action(Tap.TRY_PIECE, piece))


load_kv_beside(__file__)
