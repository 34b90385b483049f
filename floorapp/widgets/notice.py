"""One plain line across the screen: what went wrong and the way on. A tap takes it away."""

from kivy.properties import ObjectProperty

from floorapp.kivy_setup import load_kv_beside
from floorapp.views import NoticeView, Tone
from floorapp.widgets.buttons import Tappable


class Notice(Tappable):
    """Shows a NoticeView; its owner takes it away on `on_tap`."""

    notice = ObjectProperty(NoticeView("", Tone.PLAIN), rebind=True)


load_kv_beside(__file__)
