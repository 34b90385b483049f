"""A foot switch that is pressed once too often closes no press on a second garment."""

from collections.abc import Callable

import pytest

from floorapp.views import Action, Tap
from models.garment.cycle import State
from models.store.store import Store
from models.tags.code import spoken
from tests.floorapp.driver import LANDSCAPE, PORTRAIT
from tests.floorapp.press_operator import PressOperator
from tests.small_floor import called_by, codes_of

SIZES = pytest.mark.parametrize("size", [LANDSCAPE, PORTRAIT], ids=["landscape", "portrait"])
SitDown = Callable[..., PressOperator]


@SIZES
def test_a_foot_switch_leads_to_the_garment_in_the_press_and_closes_nothing(
    sit_down: SitDown, store: Store, size: tuple[int, int]
) -> None:
    operator = sit_down(size)
    first, second = codes_of(store)
    operator.scan(first)
    operator.step_on_the_switch()
    operator.scan(second)
    assert operator.sees(f"{called_by(store, first)} is still in the press.")
    operator.step_on_the_switch()

    assert store.garment(second).progress.state == State.LAYING
    assert operator.flow.in_hand.row.code == first
    assert operator.flow.countdown is not None


@SIZES
def test_a_refused_closing_says_why_and_leads_to_the_one_in_the_press(
    sit_down: SitDown, store: Store, size: tuple[int, int]
) -> None:
    """As where the screen is older than what was done: the closing itself is refused."""
    operator = sit_down(size)
    first, second = codes_of(store)
    operator.scan(first)
    operator.step_on_the_switch()
    operator.scan(second)
    operator.driver.advance(0.5)
    operator.desk.act(Action(Tap.CLOSE_PRESS))
    operator.driver.frames(2)

    assert operator.sees(f"the press holds No 4 Ines Okafor {spoken(first)}; open it")
    assert store.garment(second).progress.state == State.LAYING
    notice = operator.desk.root.ids.notice
    operator.driver.advance(0.5)
    operator.driver.tap(notice)
    assert operator.flow.in_hand.row.code == first
