"""The Find screen: large keys, and what fits what was typed."""

from kivy.properties import ObjectProperty, StringProperty

from floorapp.kivy_setup import load_kv_beside
from floorapp.screens.find_presenter import FindView, FoundRow
from floorapp.screens.parts import FloorScreen
from floorapp.views import Action, Header, Tap, Tone
from floorapp.widgets import cards, letter_pad  # noqa: F401  (their kv rules are used in ours)
from floorapp.widgets.buttons import Tappable

BACK = Action(Tap.BACK)


class FindScreen(FloorScreen):
    """Batches and garments may be many: their rows are recycled while they scroll."""

    header = ObjectProperty(Header("", ""), rebind=True)
    typed_text = StringProperty()
    told = StringProperty()
    rows = ObjectProperty([])

    def show(self, view: FindView) -> None:
        self.header, self.typed_text, self.told = view.header, view.typed, view.told
        self.rows = [{"row": row, "screen": self} for row in view.rows]

    def key(self, key: str) -> None:
        self.ask(Action(Tap.KEY, key))

    def back(self) -> None:
        self.ask(BACK)


class FoundBox(Tappable):
    """A batch or a garment that fits; a tap looks at it."""

    row = ObjectProperty(FoundRow("", "", "", Tone.PLAIN, BACK), rebind=True)
    screen = ObjectProperty(None)
    words = StringProperty()

    def on_tap(self) -> None:
        self.screen.ask(self.row.action)


load_kv_beside(__file__)
