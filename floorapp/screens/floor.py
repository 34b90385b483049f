"""The Floor screen: the batches in work, and the way to any garment."""

from kivy.properties import ObjectProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from floorapp.kivy_setup import load_kv_beside
from floorapp.screens.floor_presenter import BatchView, FloorView
from floorapp.screens.parts import FloorScreen
from floorapp.screens.presenter import SCAN
from floorapp.views import Action, Button, Header, NoticeView, Tap, Tone
from floorapp.widget_views import CallView
from floorapp.widgets import batch_bar, cards  # noqa: F401  (their kv rules are used in ours)
from floorapp.widgets.buttons import Tappable
from floorapp.widgets.call_box import CallBox

NOTHING = NoticeView("", Tone.PLAIN)
WAYS = (Button("Find", Action(Tap.TO_FIND)), Button("Set-up", Action(Tap.TO_SET_UP)))


class FloorOfBatches(FloorScreen):
    header = ObjectProperty(Header("", ""), rebind=True)
    batches = ObjectProperty(())
    in_hand = ObjectProperty(())
    empty = StringProperty()
    calls = ObjectProperty(())
    scan = ObjectProperty(SCAN)
    ways = ObjectProperty(WAYS)
    record = ObjectProperty(NOTHING, rebind=True)

    def show(self, view: FloorView) -> None:
        self.header, self.batches = view.header, view.batches
        self.in_hand, self.empty = view.in_hand, view.empty
        self.record = view.record or NOTHING
        self.tell(view.call)

    def tell(self, call: CallView | None) -> None:
        """What to see to next; it counts down while the rest of the screen stands."""
        self.calls = (call,) if call is not None else ()

    def batch_box(self, batch: BatchView) -> "BatchBox":
        box = BatchBox(batch=batch)
        box.bind(on_tap=lambda tapped: self.ask(Action(Tap.TO_REVIEW, tapped.batch.reference)))
        return box

    def call_box(self, call: CallView) -> CallBox:
        box = CallBox(call=call)
        box.bind(on_tap=lambda tapped: self.ask(tapped.call.action))
        return box


class RecordLine(BoxLayout):
    """How old the last copy of the record is; small, but for what needs somebody."""

    told = ObjectProperty(NOTHING, rebind=True)


class BatchBox(Tappable):
    """A batch with its shares; a tap opens its review."""

    batch = ObjectProperty(BatchView("", "", "", "", ()), rebind=True)


load_kv_beside(__file__)
