"""What to see to next, called large: a press to open or the next garment, and why. A tap opens it."""

from kivy.properties import ObjectProperty, StringProperty

from floorapp.kivy_setup import load_kv_beside
from floorapp.views import Action, Tap, Tone
from floorapp.widget_views import CallView
from floorapp.widgets import garment_bar, signs, words  # noqa: F401  (their kv rules are used in ours)
from floorapp.widgets.buttons import Tappable

NOBODY = CallView("", "", "", "", Tone.PLAIN, Action(Tap.DISMISS))


class CallBox(Tappable):
    call = ObjectProperty(NOBODY, rebind=True)
    words = StringProperty()


load_kv_beside(__file__)
