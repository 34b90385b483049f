"""Taps on a flow without a window, for tests of what comes of them."""

from floorapp.flow import Flow
from floorapp.screens.call_presenter import call_view
from floorapp.screens.presenter import primary_of
from floorapp.views import Action, Tap
from floorapp.widget_views import CallView
from models.garment.cycle import State
from models.job.job import Peel
from tests.held_clock import HeldClock


def tap(flow: Flow, tap: Tap, value: str = "") -> None:
    flow.act(Action(tap, value))


def tap_primary(flow: Flow) -> None:
    button = primary_of(flow)
    assert button is not None
    flow.act(button.action)


def state_of(flow: Flow) -> State:
    return flow.in_hand.progress.state


def press(flow: Flow, clock: HeldClock) -> None:
    """Lays, closes, lets the seconds run and opens."""
    tap(flow, Tap.CLOSE_PRESS)
    clock.advance(flow.in_hand.progress.hit.dwell_s)
    tap(flow, Tap.PRESS_IS_OPEN)


def to_rest(flow: Flow, clock: HeldClock, code: str) -> None:
    """Laid, pressed, hot ones off: the flow is on the Floor screen again."""
    flow.scan(code)
    clock.advance(20)
    press(flow, clock)
    clock.advance(5)
    tap(flow, Tap.PEEL, Peel.HOT.value)
    flow.tick()


def called(flow: Flow) -> CallView:
    view = call_view(flow)
    assert view is not None
    return view


def wait_for_the_rest(flow: Flow, clock: HeldClock) -> None:
    """Until the garment in hand has rested."""
    ends_at = flow.in_hand.progress.rest_ends_at
    assert ends_at is not None
    clock.advance((ends_at - clock.utc_now()).total_seconds())


def to_the_check(flow: Flow, clock: HeldClock, code: str) -> None:
    """The first hit of the sample: one hot peel, one cold one after its rest."""
    flow.scan(code)
    press(flow, clock)
    tap(flow, Tap.PEEL, Peel.HOT.value)
    wait_for_the_rest(flow, clock)
    flow.scan(code)
    tap(flow, Tap.PEEL, Peel.COLD.value)
