"""The Review screen: how a batch came out."""

from kivy.properties import ObjectProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from floorapp.kivy_setup import load_kv_beside
from floorapp.screens.parts import FloorScreen
from floorapp.screens.review_presenter import Bar, Bars, Figure, GarmentRowView, ReviewView
from floorapp.views import Action, Header, Tap, Tone
from floorapp.widgets.buttons import Tappable
from floorapp.widgets.cards import Panel


class ReviewScreen(FloorScreen):
    """The garments are many: their rows are recycled while they scroll."""

    header = ObjectProperty(Header("", ""), rebind=True)
    waiting = StringProperty()
    ends = StringProperty()
    figures = ObjectProperty(())
    sizes = StringProperty()
    bars = ObjectProperty(())
    lifts = StringProperty()
    filters = ObjectProperty(())
    rows = ObjectProperty([])
    choices = ObjectProperty(())

    def show(self, view: ReviewView) -> None:
        self.header, self.waiting, self.figures = view.header, view.waiting, view.figures
        self.ends = view.ends
        self.sizes, self.lifts = "\n".join(view.sizes), "\n".join(view.lifts)
        self.bars, self.filters, self.choices = view.bars, view.filters, view.choices
        self.rows = [{"row": row, "screen": self} for row in view.rows]


class FigureBox(Panel):
    """One key figure."""

    figure = ObjectProperty(Figure("", "", ""), rebind=True)


class BarsBox(BoxLayout):
    """Findings ranked, each with a bar to the longest."""

    bars = ObjectProperty(Bars("", ()), rebind=True)

    def bar_row(self, bar: Bar) -> "BarRow":
        return BarRow(bar=bar)


class BarRow(BoxLayout):
    bar = ObjectProperty(Bar("", 0, 0.0), rebind=True)


NO_ROW = GarmentRowView("", "", Tone.PLAIN, "", Action(Tap.TO_FLOOR), Action(Tap.TO_FLOOR))


class GarmentLine(BoxLayout):
    """One garment of the list: a tap opens it, the small target beside it says what can be changed."""

    row = ObjectProperty(NO_ROW, rebind=True)
    screen = ObjectProperty(None)

    def change(self) -> None:
        self.screen.ask(self.row.change)


class GarmentRow(Tappable):
    """What the garment is and how it stands."""

    row = ObjectProperty(NO_ROW, rebind=True)
    screen = ObjectProperty(None)

    def on_tap(self) -> None:
        self.screen.ask(self.row.action)


def figure_box(figure: Figure) -> FigureBox:
    return FigureBox(figure=figure)


def bars_box(bars: Bars) -> BarsBox:
    return BarsBox(bars=bars)


load_kv_beside(__file__)
