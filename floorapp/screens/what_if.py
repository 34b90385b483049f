"""The What-if screen: a plan hit by hit, beside the one tried with other numbers or a piece elsewhere."""

from kivy.properties import BooleanProperty, ObjectProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from floorapp.kivy_setup import load_kv_beside
from floorapp.screens.parts import FloorScreen
from floorapp.screens.what_if_presenter import WhatIfView
from floorapp.views import Action, Header, Tap
from floorapp.widgets import cards, placement_map, totals_table  # noqa: F401  (ours use their kv rules)


class HitPane(BoxLayout):
    """One hit on its side under its title; where it is tried, pieces are tapped and dragged."""

    shown = ObjectProperty(None, allownone=True)
    can_try = BooleanProperty(False)

    __events__ = ("on_piece", "on_dragged")

    def on_piece(self, piece: str) -> None:
        """The default handler does nothing; the screen binds to the event."""

    def on_dragged(self, piece: str, right_mm: int, down_mm: int) -> None:
        """The default handler does nothing; the screen binds to the event."""


class WhatIfScreen(FloorScreen):
    header = ObjectProperty(Header("", ""), rebind=True)
    before = ObjectProperty(None, allownone=True)
    now = ObjectProperty(None, allownone=True)
    heading = StringProperty()
    totals = ObjectProperty(())
    turns = ObjectProperty(())
    kept = StringProperty()
    why = ObjectProperty(())
    groups = ObjectProperty(())
    subjects = ObjectProperty(())
    steps = ObjectProperty(())
    moves_piece = BooleanProperty(False)
    choices = ObjectProperty(())
    primary = ObjectProperty(None, allownone=True)

    def show(self, view: WhatIfView) -> None:
        self.header, self.before, self.now = view.header, view.before, view.now
        self.heading, self.totals, self.turns = view.heading, view.totals, view.turns
        self.kept, self.why, self.groups = view.kept, view.why, view.groups
        self.moves_piece = view.moves_piece
        self.subjects, self.steps = view.subjects, view.steps
        self.choices, self.primary = view.choices, view.primary

    def piece_tapped(self, piece: str) -> None:
        self.ask(Action(Tap.TRY_PIECE, piece))

    def piece_dragged(self, piece: str, right_mm: int, down_mm: int) -> None:
        self.ask(Action(Tap.TRY_DRAG, f"{right_mm} {down_mm} {piece}"))


load_kv_beside(__file__)
