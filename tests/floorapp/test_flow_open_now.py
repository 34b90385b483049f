"""A press that is to be opened is called before the next garment, whatever screen calls."""

from dataclasses import replace
from pathlib import Path

import pytest

from floorapp.flow import Flow
from floorapp.screens.call_presenter import open_view
from floorapp.screens.garment_presenter import card_of
from floorapp.screens.presenter import primary_of
from floorapp.screens.pressing_presenter import running_of
from floorapp.views import Tap
from models.garment.cycle import State
from models.garment.progress import Recipe
from models.store.store import Store
from models.tags.code import spoken
from tests.floorapp.taps import called, tap, tap_primary, to_rest
from tests.floorapp.what_is_told import plain
from tests.held_clock import HeldClock
from tests.sample_jobs import rested_recipe
from tests.small_floor import codes_of, flow_on, loaded_store, rested_vests


@pytest.fixture
def recipe() -> Recipe:
    """Three vests whose first hit has a cold peel."""
    return rested_vests(3)


def leave_under_the_press(flow: Flow, clock: HeldClock, code: str, over_s: int) -> None:
    """Closed, and not opened when its hit is over."""
    flow.scan(code)
    tap(flow, Tap.CLOSE_PRESS)
    clock.advance(flow.in_hand.progress.hit.dwell_s + over_s)
    tap(flow, Tap.TO_FLOOR)
    flow.tick()


def test_a_resting_garment_s_card_calls_the_press_to_open_first(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    first, second, _ = codes_of(store)
    to_rest(flow, clock, first)
    leave_under_the_press(flow, clock, second, over_s=5)
    flow.scan(first)

    assert flow.in_hand.progress.state == State.RESTING
    assert card_of(flow).groups[0].heading == f"Open now: the press · {spoken(second)} · size M"
    primary = primary_of(flow)
    assert primary is not None
    assert plain(primary.text) == f"Open now: {spoken(second)}"
    tap_primary(flow)
    assert flow.in_hand.row.code == second


def test_a_running_hit_names_another_press_that_is_to_be_opened(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    first, second, _ = codes_of(store)
    leave_under_the_press(flow, clock, first, over_s=5)
    flow.scan(second)
    tap(flow, Tap.CLOSE_PRESS)

    running = running_of(flow)
    assert running is not None
    assert plain(running.choices[0].text) == f"Open now: {spoken(first)}"
    flow.act(running.choices[0].action)
    assert flow.in_hand.row.code == first


def test_of_two_presses_to_open_the_one_that_waits_longer_is_called(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    first, second, _ = codes_of(store)
    leave_under_the_press(flow, clock, second, over_s=0)
    leave_under_the_press(flow, clock, first, over_s=9)

    assert called(flow).action.value == second


def test_of_several_presses_the_one_to_open_is_named(clock: HeldClock, tmp_path: Path) -> None:
    recipe = rested_recipe()
    hits = tuple(replace(hit, press="wide press") for hit in recipe.plan.hits)
    store = loaded_store(tmp_path / "two", clock, replace(recipe, plan=replace(recipe.plan, hits=hits)))
    flow = flow_on(store, clock, tmp_path)
    flow.scan(codes_of(store)[0])
    tap(flow, Tap.CLOSE_PRESS)
    clock.advance(flow.in_hand.progress.hit.dwell_s)
    tap(flow, Tap.TO_FLOOR)

    assert called(flow).heading == "Open now: wide press"
    store.close()


def test_a_garment_on_its_own_screen_is_not_called_there(flow: Flow, store: Store, clock: HeldClock) -> None:
    first, *_ = codes_of(store)
    leave_under_the_press(flow, clock, first, over_s=5)
    flow.scan(first)

    assert open_view(flow) is None
