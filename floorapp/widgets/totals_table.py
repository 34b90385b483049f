"""The totals of a plan as it is and as it is tried, a row for each."""

from typing import Any

from kivy.properties import ObjectProperty
from kivy.uix.boxlayout import BoxLayout

from floorapp.kivy_setup import load_kv_beside
from floorapp.widget_views import TotalRow
from floorapp.widgets import words  # noqa: F401  (its kv rules are used in ours)
from floorapp.widgets.keeping import keep_filled

HEAD = TotalRow("", "as it is", "tried")


class TotalsTable(BoxLayout):
    """Three columns: what is counted, how many as it is, how many as tried. Empty without rows."""

    rows = ObjectProperty(())

    def on_kv_post(self, _base: Any) -> None:
        self.bind(rows=self._fill)
        self._fill()

    def _fill(self, *_: Any) -> None:
        shown = (HEAD, *self.rows) if self.rows else ()
        keep_filled(self, shown, lambda row: TotalsRow(row=row), "row")


class TotalsRow(BoxLayout):
    """One of its rows, bold where it is another number than before."""

    row = ObjectProperty(HEAD, rebind=True)


load_kv_beside(__file__)
