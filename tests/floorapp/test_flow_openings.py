"""How a hit ended: opened early, or cut off and asked about."""

from pathlib import Path

import pytest

from floorapp.flow import Flow, ScreenName
from floorapp.screens.garment_presenter import card_of, running_of
from floorapp.views import Tap
from models.garment.cycle import State
from models.garment.events import ExtraReason
from models.store.store import Store
from tests.floorapp.taps import state_of, tap
from tests.held_clock import HeldClock
from tests.small_floor import codes_of, flow_on


def test_opened_early_asks_for_the_seconds_and_plans_the_rest_in(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    flow.scan(codes_of(store)[0])
    tap(flow, Tap.CLOSE_PRESS)
    clock.advance(9)
    tap(flow, Tap.OPENED_EARLY)
    asked = flow.screen
    flow.enter_seconds(9)
    progress = flow.in_hand.progress

    assert asked == ScreenName.SECONDS_ENTRY
    assert progress.step.extra == ExtraReason.REMAINDER
    assert progress.hit.dwell_s == 6
    assert progress.state == State.LAYING


def test_a_running_hit_reopened_asks_whether_it_was_finished(
    flow: Flow, store: Store, clock: HeldClock, tmp_path: Path
) -> None:
    code = codes_of(store)[0]
    flow.scan(code)
    tap(flow, Tap.CLOSE_PRESS)
    clock.advance(200)
    reopened = flow_on(store, clock, tmp_path)
    reopened.scan(code)

    assert reopened.is_interrupted
    assert card_of(reopened).heading == "Hit 1 of 2: was it finished?"
    assert [button.action.tap for button in card_of(reopened).answers] == [
        Tap.PRESS_IS_OPEN,
        Tap.OPENED_EARLY,
        Tap.NEVER_CLOSED,
    ]


@pytest.mark.parametrize(
    ("answer", "state"),
    [(Tap.PRESS_IS_OPEN, State.PEELING), (Tap.NEVER_CLOSED, State.LAYING)],
)
def test_the_answer_after_an_interruption_is_acted_on(
    flow: Flow, store: Store, clock: HeldClock, tmp_path: Path, *, answer: Tap, state: State
) -> None:
    code = codes_of(store)[0]
    flow.scan(code)
    tap(flow, Tap.CLOSE_PRESS)
    reopened = flow_on(store, clock, tmp_path)
    reopened.scan(code)
    tap(reopened, answer)

    assert state_of(reopened) == state


def test_a_machine_that_slept_through_a_hit_asks_as_well(flow: Flow, store: Store, clock: HeldClock) -> None:
    flow.scan(codes_of(store)[0])
    tap(flow, Tap.CLOSE_PRESS)
    clock.sleep_machine(600)

    assert flow.is_interrupted
    assert running_of(flow) is None
