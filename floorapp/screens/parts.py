"""What several screens are built from: a grid of buttons, a list of groups, the card of a phase."""

from typing import Any

from kivy.properties import BooleanProperty, NumericProperty, ObjectProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.gridlayout import GridLayout
from kivy.uix.screenmanager import Screen

from floorapp.kivy_setup import load_kv_beside
from floorapp.views import Action, Button, Card, Group
from floorapp.widgets import long_list  # noqa: F401  (its kv rule is used in ours)
from floorapp.widgets.buttons import ChoiceButton, PlainButton, PrimaryButton
from floorapp.widgets.cards import GroupBox
from floorapp.widgets.keeping import keep_filled


class FloorScreen(Screen):
    """A screen that shows a view and tells its owner what was tapped."""

    is_portrait = BooleanProperty(False)

    __events__ = ("on_action", "on_typed")

    def on_action(self, action: Action) -> None:
        """The default handler does nothing; the app binds to the event."""

    def on_typed(self, text: str) -> None:
        """The default handler does nothing; the app binds to the event."""

    def ask(self, action: Action) -> None:
        self.dispatch("on_action", action)

    def finish(self) -> None:
        """What the primary key does on a screen without a primary action: nothing, but on large keys."""


class ButtonGrid(GridLayout):
    """A button for each `Button` record; dispatches `on_action` with the record's action."""

    buttons = ObjectProperty(())
    wanted_columns = NumericProperty(2)
    is_tight = BooleanProperty(False)  # four in a row beside a card

    __events__ = ("on_action",)

    def on_action(self, action: Action) -> None:
        """The default handler does nothing; owners bind to the event."""

    def on_kv_post(self, _base: Any) -> None:
        self.bind(buttons=self._fill)
        self._fill()

    def _fill(self, *_: Any) -> None:
        kinds = [ChoiceButton if is_choice(button, self.buttons) else PlainButton for button in self.buttons]
        if [type(child) for child in reversed(self.children)] != kinds:
            self.clear_widgets()
            for kind in kinds:
                self.add_widget(self._made(kind))
        for child, button in zip(reversed(self.children), self.buttons, strict=True):
            child.words, child.action = button.text, button.action
            child.is_tight = self.is_tight
            if isinstance(child, ChoiceButton):
                child.is_chosen, child.tone = button.is_chosen, button.tone

    def _made(self, kind: type[Any]) -> Any:
        made = kind()
        made.bind(on_tap=lambda tapped: self.dispatch("on_action", tapped.action))
        return made


def is_choice(button: Button, among: tuple[Button, ...]) -> bool:
    """Whether it says so, or is one of several of the same kind of which one is chosen."""
    tap = button.action.tap
    return button.is_choice or any(other.is_chosen and other.action.tap == tap for other in among)


class Listing(GridLayout):
    """A widget for each record of a tuple, made by `maker`, which `shows` the record as that property."""

    records = ObjectProperty(())
    maker = ObjectProperty(None)
    shows = StringProperty()

    def on_kv_post(self, _base: Any) -> None:
        self.bind(records=self._fill)
        self._fill()

    def _fill(self, *_: Any) -> None:
        keep_filled(self, self.records, self.maker, self.shows)


def group_box(group: Group) -> GroupBox:
    return GroupBox(group=group)


class PrimaryPlace(BoxLayout):
    """Where the one primary action stands; empty where there is none."""

    button = ObjectProperty(None, allownone=True)

    __events__ = ("on_action",)

    def on_action(self, action: Action) -> None:
        """The default handler does nothing; owners bind to the event."""

    def on_kv_post(self, _base: Any) -> None:
        self.bind(button=self._fill)
        self._fill()

    def _fill(self, *_: Any) -> None:
        if self.button is None:
            self.clear_widgets()
            return
        if not self.children:
            made = PrimaryButton()
            made.bind(on_tap=lambda tapped: self.dispatch("on_action", tapped.action))
            self.add_widget(made)
        block = self.children[0]
        block.words, block.tone, block.action = self.button.text, self.button.tone, self.button.action


class CardPanel(BoxLayout):
    """What to do now: heading, settings, lists, smaller ways on, and the primary action at the bottom."""

    card = ObjectProperty(Card(""), rebind=True)

    __events__ = ("on_action",)

    def on_action(self, action: Action) -> None:
        """The default handler does nothing; owners bind to the event."""

    def to_top(self) -> None:
        """Scrolls what is told to its beginning."""
        self.ids.told.scroll_y = 1

    def ask(self, action: Action) -> None:
        self.dispatch("on_action", action)


load_kv_beside(__file__)
