"""What is tapped: the one primary block of a screen, ruled boxes, and boxes that stay chosen."""

from kivy.properties import BooleanProperty, ColorProperty, ObjectProperty, OptionProperty, StringProperty
from kivy.uix.behaviors import ButtonBehavior
from kivy.uix.boxlayout import BoxLayout

from floorapp.focus import Focusable
from floorapp.kivy_setup import load_kv_beside
from floorapp.palette import INK, PAPER, TONES, Colour
from floorapp.views import Tone
from floorapp.widgets import signs, words  # noqa: F401  (their kv rules are used in ours)


class Tappable(ButtonBehavior, Focusable, BoxLayout):
    """A framed box that dispatches `on_tap`; `action` is whatever its owner wants to be told by it."""

    ground = ColorProperty(PAPER)
    edge = ColorProperty(INK)
    ink = ColorProperty(INK)
    tone = OptionProperty(Tone.PLAIN, options=list(Tone))
    action = ObjectProperty(None, allownone=True)
    is_tight = BooleanProperty(False)

    __events__ = ("on_tap",)

    def on_release(self) -> None:
        self.dispatch("on_tap")

    def on_tap(self) -> None:
        """The default handler does nothing; owners bind to the event."""


class PrimaryButton(Tappable):
    """The block at the lower right: what Space, Enter and the foot switch do as well."""

    words = StringProperty()

    @staticmethod
    def block(tone: Tone) -> Colour:
        return INK if tone == Tone.PLAIN else TONES[tone].block

    @staticmethod
    def on_block(tone: Tone) -> Colour:
        return PAPER if tone == Tone.PLAIN else TONES[tone].on_block


class PlainButton(Tappable):
    """A ruled box with words."""

    words = StringProperty()


class ChoiceButton(Tappable):
    """A box to choose: its checkbox is ticked and its ground filled while it is chosen."""

    words = StringProperty()
    is_chosen = BooleanProperty(False)


load_kv_beside(__file__)
