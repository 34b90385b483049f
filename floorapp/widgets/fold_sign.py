"""Says at the foot of a list that more of it stands below, for who does not see its thin bar."""

from kivy.properties import NumericProperty
from kivy.uix.anchorlayout import AnchorLayout

from floorapp.kivy_setup import load_kv_beside
from floorapp.widgets import words  # noqa: F401  (its kv rules are used in ours)


class FoldSign(AnchorLayout):
    """Seen while `hidden_px` of the list are below its foot; touches go through it to the list."""

    hidden_px = NumericProperty(0)


load_kv_beside(__file__)
