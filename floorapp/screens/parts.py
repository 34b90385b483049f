"""What several screens are built from: a grid of buttons, a list of groups, the card of a phase."""

from typing import Any

from kivy.properties import BooleanProperty, NumericProperty, ObjectProperty
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.gridlayout import GridLayout
from kivy.uix.screenmanager import Screen

from floorapp.kivy_setup import load_kv_beside
from floorapp.views import Action, Button, Card, Group, Setting
from floorapp.widgets.buttons import ChoiceButton, PlainButton, PrimaryButton
from floorapp.widgets.cards import GroupBox, SettingBox


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

    __events__ = ("on_action",)

    def on_action(self, action: Action) -> None:
        """The default handler does nothing; owners bind to the event."""

    def on_kv_post(self, _base: Any) -> None:
        self.bind(buttons=self._fill)
        self._fill()

    def _fill(self, *_: Any) -> None:
        self.clear_widgets()
        for button in self.buttons:
            self.add_widget(self._made(button))

    def _made(self, button: Button) -> PlainButton | ChoiceButton:
        if is_choice(button, self.buttons):
            made = ChoiceButton(
                words=button.text, action=button.action, is_chosen=button.is_chosen, tone=button.tone
            )
        else:
            made = PlainButton(words=button.text, action=button.action)
        made.bind(on_tap=lambda tapped: self.dispatch("on_action", tapped.action))
        return made


def is_choice(button: Button, among: tuple[Button, ...]) -> bool:
    """Whether it is one of several of the same kind of which one is chosen."""
    return any(other.is_chosen and other.action.tap == button.action.tap for other in among)


class Listing(GridLayout):
    """A widget for each record of a tuple, made by `maker`."""

    records = ObjectProperty(())
    maker = ObjectProperty(None)

    def on_kv_post(self, _base: Any) -> None:
        self.bind(records=self._fill)
        self._fill()

    def _fill(self, *_: Any) -> None:
        self.clear_widgets()
        for record in self.records:
            self.add_widget(self.maker(record))


def group_box(group: Group) -> GroupBox:
    return GroupBox(group=group)


def setting_box(setting: Setting) -> SettingBox:
    return SettingBox(setting=setting)


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
        self.clear_widgets()
        if self.button is not None:
            made = PrimaryButton(words=self.button.text, tone=self.button.tone, action=self.button.action)
            made.bind(on_tap=lambda tapped: self.dispatch("on_action", tapped.action))
            self.add_widget(made)


class CardPanel(BoxLayout):
    """What to do now: heading, settings, lists, smaller ways on, and the primary action at the bottom."""

    card = ObjectProperty(Card(""), rebind=True)

    __events__ = ("on_action",)

    def on_action(self, action: Action) -> None:
        """The default handler does nothing; owners bind to the event."""

    def ask(self, action: Action) -> None:
        self.dispatch("on_action", action)


load_kv_beside(__file__)
