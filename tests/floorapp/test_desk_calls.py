"""The next garment in the real window: large, whole, and opened by a finger."""

from collections.abc import Callable

import pytest

from floorapp.screen_names import ScreenName
from models.clock import HeldClock
from models.floor.work import FloorWork, Seat
from models.store.store import Store
from tests.floorapp.driver import LANDSCAPE, PORTRAIT
from tests.floorapp.press_operator import BETWEEN_TAPS_S, PressOperator
from tests.small_floor import called_by, codes_of

SIZES = pytest.mark.parametrize("size", [LANDSCAPE, PORTRAIT], ids=["landscape", "portrait"])
SitDown = Callable[..., PressOperator]


def to_rest(operator: PressOperator, code: str) -> None:
    operator.scan(code)
    operator.press()
    operator.tap("Hot ones off")
    operator.driver.advance(0.5, draw=True)


@SIZES
def test_the_next_garment_is_called_large_and_a_finger_opens_it(
    sit_down: SitDown, store: Store, size: tuple[int, int]
) -> None:
    from floorapp.theme import PRIMARY_MM, to_mm
    from floorapp.widgets.call_box import CallBox

    operator = sit_down(size)
    first, second = codes_of(store)
    to_rest(operator, first)
    box = operator.target(called_by(store, second))

    assert isinstance(box, CallBox)
    assert to_mm(box.height) >= PRIMARY_MM
    assert operator.sees("Next: press hit 1")
    operator.tap(called_by(store, second))
    assert operator.flow.screen == ScreenName.GARMENT
    assert operator.flow.in_hand.row.code == second


@SIZES
def test_a_scan_is_as_good_as_a_tap_on_what_is_called(
    sit_down: SitDown, store: Store, size: tuple[int, int]
) -> None:
    operator = sit_down(size)
    first, second = codes_of(store)
    to_rest(operator, first)
    operator.scan(second)

    assert operator.flow.in_hand.row.code == second


def test_a_tap_just_when_another_garment_is_called_opens_nothing(sit_down: SitDown, store: Store) -> None:
    """The finger was on its way to the one that stood there before."""
    operator = sit_down()
    first, second = codes_of(store)
    to_rest(operator, first)
    store_row = operator.flow.work.find(second)
    operator.flow.work.hold(store_row, "a kit is missing")
    box = operator.target(called_by(store, second))
    operator.flow.look_around()
    operator.desk.tick()  # now the first one is called, for the end of its rest
    operator.driver.tap(box)
    operator.driver.frames(2)

    assert operator.flow.calls.called_code == first
    assert operator.flow.screen == ScreenName.FLOOR


def under_the_press(operator: PressOperator, code: str) -> int:
    """Laid and closed, and its screen left for the Floor screen. Answers the seconds of the hit."""
    operator.scan(code)
    operator.tap("Laid")
    operator.driver.advance(BETWEEN_TAPS_S)
    operator.driver.press_key("escape")
    return operator.flow.in_hand.progress.hit.dwell_s


def left_under_the_press(operator: PressOperator, code: str) -> None:
    """Nobody opens the press until 20 s after the end of the hit."""
    operator.driver.advance(under_the_press(operator, code) + 20 - BETWEEN_TAPS_S, draw=True)


@SIZES
def test_a_press_that_is_to_be_opened_is_called_before_any_other_garment(
    sit_down: SitDown, store: Store, size: tuple[int, int]
) -> None:
    operator = sit_down(size)
    first, second = codes_of(store)
    left_under_the_press(operator, first)

    assert operator.flow.screen == ScreenName.FLOOR
    assert operator.flow.calls.called_code == second  # what is worked out waits
    assert operator.sees("Open now: the press")
    assert operator.sees(called_by(store, first))
    assert operator.sees("Its hit has been over for 0:20.")
    assert not operator.sees("Next")
    operator.tap(called_by(store, first))
    assert operator.flow.screen == ScreenName.GARMENT
    assert operator.flow.in_hand.row.code == first


def test_once_the_press_is_opened_the_next_garment_is_called_again(sit_down: SitDown, store: Store) -> None:
    operator = sit_down()
    first, second = codes_of(store)
    left_under_the_press(operator, first)
    operator.tap(called_by(store, first))
    operator.tap("The press is open")
    operator.tap("15 s")
    operator.tap("Hot ones off")
    operator.driver.advance(0.5, draw=True)

    assert operator.target(called_by(store, second))
    assert operator.sees("Next: press hit 1")


def test_a_tap_just_when_a_hit_is_over_opens_nothing(sit_down: SitDown, store: Store) -> None:
    """The finger was on its way to the garment that was called until then."""
    operator = sit_down()
    first, second = codes_of(store)
    dwell_s = under_the_press(operator, first)
    operator.driver.advance(dwell_s - BETWEEN_TAPS_S - 0.3, draw=True)
    box = operator.target(called_by(store, second))
    operator.driver.advance(0.3, draw=True)
    operator.driver.tap(box)

    assert operator.flow.screen == ScreenName.FLOOR


def test_the_time_until_the_next_garment_runs_on_the_call(sit_down: SitDown, store: Store) -> None:
    operator = sit_down()
    first, second = codes_of(store)
    operator.flow.work.hold(operator.flow.work.find(second), "a kit is missing")
    to_rest(operator, first)
    left_s = (operator.flow.resting[0].rest_ends_at - operator.flow.clock.utc_now()).total_seconds()
    operator.driver.advance(left_s - 29.5)

    assert operator.sees("Next in 0:30")


def test_a_press_that_nobody_has_counted_is_to_be_looked_at_first(
    sit_down: SitDown, store: Store, clock: HeldClock
) -> None:
    """The app was started anew while the press was closed."""
    first, _ = codes_of(store)
    work = FloorWork(store, clock, Seat("Station 1", "Mette"))
    work.close(work.find(first))
    operator = sit_down()
    operator.driver.advance(0.5, draw=True)

    assert operator.sees("Look now: the press may be closed")
    operator.tap(called_by(store, first))
    assert operator.flow.in_hand.row.code == first
