"""Rests in the real window, both ways up: what a hand finds is tapped, and the card holds it all."""

from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest

from floorapp.screens.words import minutes, whole_seconds_to
from models.clock import HeldClock
from models.garment.cycle import State
from models.garment.events import Rested
from models.garment.progress import Recipe
from models.job.job import Peel
from models.recipe.piece_rest import PieceRest
from models.recipe.places import Place
from models.store.store import Store
from tests.floorapp.driver import LANDSCAPE, PORTRAIT, Driver
from tests.floorapp.press_operator import PressOperator, app_on
from tests.sample_jobs import rested_recipe, warm_recipe
from tests.small_floor import codes_of, loaded_store

SIZES = pytest.mark.parametrize("size", [LANDSCAPE, PORTRAIT], ids=["landscape", "portrait"])
SitDown = Callable[..., PressOperator]


@pytest.fixture
def recipe() -> Recipe:
    """Two vests whose rests were estimated, on the table and hung."""
    on_the_table = rested_recipe()
    hung = PieceRest("anchor", Peel.COLD, 60.0, 90.0, 120.0, place=Place.HUNG)
    return replace(on_the_table, rests=(*on_the_table.rests, hung))


def to_rest(operator: PressOperator, code: str) -> None:
    operator.scan(code)
    operator.press()
    operator.tap("Hot ones off")


@SIZES
def test_a_hand_that_finds_it_still_warm_sends_it_back(
    sit_down: SitDown, store: Store, size: tuple[int, int]
) -> None:
    operator, code = sit_down(size), codes_of(store)[0]
    to_rest(operator, code)
    operator.wait_for_the_rest()
    operator.scan(code)
    operator.tap("Still warm: rest it 0:46 more")

    assert operator.flow.in_hand.progress.state == State.RESTING
    assert [event.what for event in operator.flow.in_hand.log][-1] == Rested(46)


@SIZES
def test_a_hand_that_finds_it_cold_before_its_time_peels_it(
    sit_down: SitDown, store: Store, size: tuple[int, int]
) -> None:
    operator, code = sit_down(size), codes_of(store)[0]
    to_rest(operator, code)
    operator.scan(code)
    operator.tap("Cold already")

    assert operator.flow.in_hand.progress.state == State.CHECKING


@SIZES
def test_the_card_of_a_station_that_hangs_its_garments_says_hung(
    start_app: Callable[..., Driver], store: Store, tmp_path: Path, size: tuple[int, int]
) -> None:
    operator = PressOperator(start_app(lambda clock: app_on(store, tmp_path, clock, Place.HUNG), size))
    to_rest(operator, codes_of(store)[0])
    operator.scan(codes_of(store)[0])

    assert operator.sees("Leave it hung until it is cold.")
    (rested,) = (event.what for event in operator.flow.in_hand.log if isinstance(event.what, Rested))
    assert rested.place == Place.HUNG
    assert 88 <= rested.rest_s <= 90  # the hot ones came off in the first seconds of it


@SIZES
def test_a_peel_with_the_rest_after_it_stands_on_the_card_uncut(
    sit_down: SitDown, store: Store, size: tuple[int, int]
) -> None:
    operator = sit_down(size)
    operator.scan(codes_of(store)[0])
    operator.press()

    assert operator.sees("70 s (42 to 116), a first estimate")
    assert [box for box in lists_of(operator) if box.children[0].height > box.height] == []


@SIZES
def test_a_warm_peel_with_its_wait_and_the_rest_after_it_stands_on_the_card_uncut(
    start_app: Callable[..., Driver], clock: HeldClock, tmp_path: Path, size: tuple[int, int]
) -> None:
    recipe = rested_recipe()
    first, *others = recipe.job.materials
    ring = replace(first, peel=Peel.WARM, carrier=True, least_s=15)
    wait = PieceRest("life-ring", Peel.WARM, 20.0, 33.0, 49.0)
    recipe = replace(recipe, job=replace(recipe.job, materials=(ring, *others)), rests=(*recipe.rests, wait))
    with closing(loaded_store(tmp_path / "warm", clock, recipe)) as store:
        operator = PressOperator(start_app(lambda clock: app_on(store, tmp_path, clock), size))
        to_rest(operator, codes_of(store)[0])

        assert operator.sees("Off the press and flat on the table until it is warm.")
        assert operator.sees("a first estimate")
        assert [box for box in lists_of(operator) if box.children[0].height > box.height] == []


@SIZES
def test_a_warm_wait_counts_down_on_its_card_then_on_the_rail_and_calls(
    start_app: Callable[..., Driver], clock: HeldClock, tmp_path: Path, size: tuple[int, int]
) -> None:
    with closing(loaded_store(tmp_path / "warm", clock, warm_recipe())) as store:
        operator = PressOperator(start_app(lambda clock: app_on(store, tmp_path, clock), size))
        to_rest(operator, codes_of(store)[0])
        (waiting,) = operator.flow.resting
        left_s = whole_seconds_to(waiting.rest_ends_at, clock.utc_now())
        operator.driver.advance(3, draw=True)
        on_the_card = operator.sees(f"warm in {minutes(left_s - 3)}")
        operator.tap("To the floor")
        operator.driver.advance(2, draw=True)
        on_the_rail = [box.time_told for box in rail_boxes(operator)]
        left_then_s = whole_seconds_to(waiting.rest_ends_at, clock.utc_now())
        operator.driver.advance(left_then_s + 0.2, step_s=1)

        assert on_the_card
        assert on_the_rail == [minutes(left_then_s)]
        assert [box.time_told for box in rail_boxes(operator)] == ["peel now"]
        assert operator.desk.root.is_flashing


def rail_boxes(operator: PressOperator) -> list:
    from floorapp.widgets.rest_rail import RailBox

    return [part for part in operator.desk.root.walk() if isinstance(part, RailBox)]


def lists_of(operator: PressOperator) -> list:
    """What would scroll on the screen if it were too full."""
    from kivy.uix.scrollview import ScrollView

    shown = operator.desk.screens[operator.flow.screen].walk(restrict=True)
    return [part for part in shown if isinstance(part, ScrollView) and part.height > 0]
