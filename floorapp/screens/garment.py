"""The Garment screen: one garment at its place in its sequence."""

from typing import Any

from kivy.properties import BooleanProperty, ObjectProperty

from floorapp.kivy_setup import load_kv_beside
from floorapp.screens.garment_presenter import TO_FLOOR, GarmentView
from floorapp.screens.parts import ButtonGrid, CardPanel, FloorScreen, PrimaryPlace
from floorapp.views import Action, Card, Header, Running, Tap
from floorapp.widgets import cards, hit_ladder, placement_map  # noqa: F401  (their kv rules are used in ours)
from floorapp.widgets.countdown_panel import CountdownPanel


class GarmentScreen(FloorScreen):
    """While a hit runs, the countdown takes the place of the card."""

    header = ObjectProperty(Header("", ""), rebind=True)
    rungs = ObjectProperty(())
    map = ObjectProperty(None, allownone=True)
    card = ObjectProperty(Card(""), rebind=True)
    running = ObjectProperty(None, allownone=True)
    can_mark = BooleanProperty(False)
    aside = ObjectProperty((TO_FLOOR,))  # while a hit runs

    def show(self, view: GarmentView) -> None:
        if (view.header.garment, view.card.heading) != (self.header.garment, self.card.heading):
            self._card.to_top()
        self.header, self.rungs, self.map = view.header, view.rungs, view.map
        self.card = view.card
        self.can_mark = view.can_mark

    def on_kv_post(self, _base: Any) -> None:
        self._card, self._countdown = CardPanel(), RunningPanel()
        for panel in (self._card, self._countdown):
            panel.bind(on_action=lambda _, action: self.ask(action))
        self.bind(running=self._swap, card=self._card.setter("card"))
        self._swap()

    @property
    def is_flashing(self) -> bool:
        return self._countdown.flashes

    def ticked(self) -> None:
        self.ask(Action(Tap.PASS))

    def piece_tapped(self, piece: str) -> None:
        self.ask(Action(Tap.LOOK_CLOSER, piece))

    def _swap(self, *_: Any) -> None:
        place, wanted = self.ids.place, self._card if self.running is None else self._countdown
        if wanted not in place.children:
            place.clear_widgets()
            place.add_widget(wanted)
        if self.running is not None:
            self._countdown.running = self.running
        else:
            self._countdown.stop_flash()


class RunningPanel(CountdownPanel):
    """The countdown with its buttons: opened early while it runs, the press is open once it is over."""

    running = ObjectProperty(Running("", 0, 1.0, "", is_over=False, choices=(), primary=None))

    __events__ = ("on_action",)

    def on_action(self, action: Action) -> None:
        """The default handler does nothing; the screen binds to the event."""

    def on_kv_post(self, _base: Any) -> None:
        self._is_over = False
        self.choices = ButtonGrid(wanted_columns=2)
        self.place = PrimaryPlace()
        for part in (self.choices, self.place):
            part.bind(on_action=lambda _, action: self.dispatch("on_action", action))
        self.bind(running=self._tell)
        self._tell()

    def _tell(self, *_: Any) -> None:
        running = self.running
        was_over, self._is_over = self._is_over, running.is_over
        self.heading, self.words = running.heading, running.words
        self.left_s, self.fraction_left = running.left_s, running.fraction_left
        self.choices.buttons, self.place.button = running.choices, running.primary
        self._offer(running)
        if running.is_over and not was_over:
            self.flash()

    def _offer(self, running: Running) -> None:
        parts = [part for part, is_there in self._parts(running) if is_there]
        if parts != list(reversed(self.actions.children)):
            self.actions.clear_widgets()
            for part in parts:
                self.actions.add_widget(part)

    def _parts(self, running: Running) -> tuple[tuple[Any, bool], ...]:
        """The smaller ways on, then the primary action, and whether each is there."""
        return (self.choices, bool(running.choices)), (self.place, running.primary is not None)


load_kv_beside(__file__)
