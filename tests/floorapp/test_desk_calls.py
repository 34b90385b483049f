"""The next garment in the real window: large, whole, and opened by a finger."""

from collections.abc import Callable

import pytest

from floorapp.screen_names import ScreenName
from models.store.store import Store
from models.tags.code import spoken
from tests.floorapp.driver import LANDSCAPE, PORTRAIT
from tests.floorapp.press_operator import PressOperator
from tests.small_floor import codes_of

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
    box = operator.target(spoken(second))

    assert isinstance(box, CallBox)
    assert to_mm(box.height) >= PRIMARY_MM
    assert operator.sees("Next: press hit 1")
    operator.tap(spoken(second))
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
    box = operator.target(spoken(second))
    operator.desk.reread()
    operator.desk.tick()  # now the first one is called, for the end of its rest
    operator.driver.tap(box)
    operator.driver.frames(2)

    assert operator.flow.calls.called_code == first
    assert operator.flow.screen == ScreenName.FLOOR
