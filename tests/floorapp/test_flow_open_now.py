"""A press that is to be opened is called before the next garment, whatever screen calls."""

from collections.abc import Iterator
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
from tests.floorapp.taps import called, tap, tap_primary, to_rest
from tests.held_clock import HeldClock
from tests.small_floor import called_by, codes_of, flow_on, loaded_store, on_press, rested_vests

NARROW = "LC-0148"


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
    assert card_of(flow).groups[0].heading == f"Open now: the press · {called_by(store, second)}"
    primary = primary_of(flow)
    assert primary is not None
    assert primary.text == f"Open now: {called_by(store, second)}"
    tap_primary(flow)
    assert flow.in_hand.row.code == second


@pytest.fixture
def two_presses(clock: HeldClock, tmp_path: Path) -> Iterator[Store]:
    """Two batches of one vest, one for the wide press and one for the narrow one."""
    vests = rested_vests(1)
    wide, narrow = on_press(vests, "wide press"), on_press(vests, "narrow press")
    store = loaded_store(tmp_path / "two", clock, wide)
    store.add_batch(replace(narrow.job, reference=NARROW), narrow.plan)
    yield store
    store.close()


def vests_of_both(store: Store) -> tuple[str, str]:
    """The code for the wide press and the one for the narrow press."""
    return codes_of(store)[0], store.garments(NARROW)[0].code


def test_a_running_hit_names_another_press_that_is_to_be_opened(
    two_presses: Store, clock: HeldClock, tmp_path: Path
) -> None:
    flow, (first, second) = flow_on(two_presses, clock, tmp_path), vests_of_both(two_presses)
    leave_under_the_press(flow, clock, first, over_s=5)
    flow.scan(second)
    tap(flow, Tap.CLOSE_PRESS)

    running = running_of(flow)
    assert running is not None
    assert running.choices[0].text == f"Open now: {called_by(two_presses, first)}"
    flow.act(running.choices[0].action)
    assert flow.in_hand.row.code == first


def test_of_two_presses_to_open_the_one_that_waits_longer_is_called(
    two_presses: Store, clock: HeldClock, tmp_path: Path
) -> None:
    flow, (first, second) = flow_on(two_presses, clock, tmp_path), vests_of_both(two_presses)
    leave_under_the_press(flow, clock, second, over_s=0)
    leave_under_the_press(flow, clock, first, over_s=9)

    assert len(flow.pressing) == 2
    assert called(flow).action.value == second
    assert called(flow).heading == "Open now: narrow press"


def test_a_garment_on_its_own_screen_is_not_called_there(flow: Flow, store: Store, clock: HeldClock) -> None:
    first, *_ = codes_of(store)
    leave_under_the_press(flow, clock, first, over_s=5)
    flow.scan(first)

    assert open_view(flow) is None
