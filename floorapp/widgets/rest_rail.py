"""The garments that wait for their time, along the bottom of every floor screen."""

from typing import Any

from kivy.properties import ObjectProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from floorapp.kivy_setup import load_kv_beside
from floorapp.palette import PAPER, TONES
from floorapp.views import RailItem, Tone
from floorapp.widgets.buttons import Tappable
from floorapp.widgets.shapes import SignName


class RestRail(BoxLayout):
    """Takes the items in the order in which they are shown; dispatches `on_pick` with a garment's code."""

    items = ObjectProperty(())
    told = StringProperty()

    __events__ = ("on_pick",)

    def on_kv_post(self, _base: Any) -> None:
        self.bind(items=self._fill)
        self._fill()

    def on_pick(self, code: str) -> None:
        """The default handler does nothing; owners bind to the event."""

    def boxes(self) -> list["RailBox"]:
        return list(reversed(self.ids.rail.children))

    def _fill(self, *_: Any) -> None:
        """Most changes are a second less on the same garments: their boxes stay."""
        self.told = _told(self.items)
        boxes = self.boxes()
        if [box.item.code for box in boxes] != [item.code for item in self.items]:
            boxes = self._rebuilt()
        for box, item in zip(boxes, self.items, strict=True):
            box.item = item

    def _rebuilt(self) -> list["RailBox"]:
        self.ids.rail.clear_widgets()
        for item in self.items:
            box = RailBox(item=item)
            box.bind(on_tap=lambda tapped: self.dispatch("on_pick", tapped.item.code))
            self.ids.rail.add_widget(box)
        return self.boxes()


class RailBox(Tappable):
    """One garment: its sign, the time it still wants, who wears it, its code, its batch."""

    item = ObjectProperty(RailItem("", "", "", "", 0, is_pressing=False), rebind=True)
    time_told = StringProperty()
    sign = StringProperty(SignName.REST)

    def __init__(self, **settings: Any) -> None:
        super().__init__(**settings)
        self.bind(item=self._show)
        self._show()

    def _show(self, *_: Any) -> None:
        item = self.item
        colours = TONES[_tone_of(item)]
        self.edge = colours.line
        self.ground = colours.block if item.is_due else PAPER
        self.ink = colours.on_block if item.is_due else colours.line
        self.sign = _sign_of(item)
        self.time_told = _time_told(item)


def _tone_of(item: RailItem) -> Tone:
    if item.left_s is None:
        return Tone.ATTENTION
    return Tone.PRESS if item.is_pressing else Tone.REST


def _sign_of(item: RailItem) -> SignName:
    if item.left_s is None:
        return SignName.CAUTION
    if item.is_pressing:
        return SignName.PRESS
    if item.is_due:
        return SignName.WARM if item.is_warm else SignName.COLD
    return SignName.REST


def _time_told(item: RailItem) -> str:
    if item.left_s is None:
        return "look now"
    if item.is_due:
        return "open now" if item.is_pressing else "peel now"
    about = "≈" if item.is_doubtful else ""
    return f"{about}{item.left_s // 60}:{item.left_s % 60:02d}"


def _told(items: tuple[RailItem, ...]) -> str:
    if not items:
        return "nothing rests"
    due = sum(item.is_due for item in items)
    return f"{len(items)} waiting" + (f"\n{due} due now" if due else "")


load_kv_beside(__file__)
