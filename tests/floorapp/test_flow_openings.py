"""How a hit ended: opened early, or cut off and asked about."""

from pathlib import Path

import pytest

from floorapp.flow import Flow
from floorapp.screen_names import ScreenName
from floorapp.screens.floor_presenter import rail_of
from floorapp.screens.garment_presenter import card_of
from floorapp.screens.pressing_presenter import running_of
from floorapp.views import Cue, Tap
from models.garment.cycle import State
from models.garment.events import ExtraReason, Opened
from models.job.job import Peel
from models.store.store import Store
from tests.floorapp.taps import state_of, tap, tap_primary, to_the_check
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
        Tap.STILL_CLOSED,
        Tap.PRESS_IS_OPEN,
        Tap.OPENED_EARLY,
        Tap.NEVER_CLOSED,
    ]


@pytest.mark.parametrize(("answer", "state"), [(0, State.PRESSING), (1, State.PEELING), (3, State.LAYING)])
def test_the_answer_after_an_interruption_is_acted_on(
    flow: Flow, store: Store, clock: HeldClock, tmp_path: Path, *, answer: int, state: State
) -> None:
    code = codes_of(store)[0]
    flow.scan(code)
    tap(flow, Tap.CLOSE_PRESS)
    clock.advance(40)
    reopened = flow_on(store, clock, tmp_path)
    reopened.scan(code)
    reopened.act(card_of(reopened).answers[answer].action)

    assert state_of(reopened) == state


def interrupted(flow: Flow, store: Store, clock: HeldClock, folder: Path, after_s: int) -> Flow:
    """The app was closed in mid-hit and is opened again, with the garment scanned."""
    flow.scan(codes_of(store)[0])
    tap(flow, Tap.CLOSE_PRESS)
    clock.advance(after_s)
    again = flow_on(store, clock, folder)
    again.scan(codes_of(store)[0])
    return again


def test_a_press_that_is_still_closed_is_counted_on_with_its_doubt(
    flow: Flow, store: Store, clock: HeldClock, tmp_path: Path
) -> None:
    again = interrupted(flow, store, clock, tmp_path, after_s=6)
    tap(again, Tap.STILL_CLOSED)
    running = running_of(again)
    tap(again, Tap.TO_FLOOR)

    assert running is not None
    assert running.left_s == 9
    assert running.words.startswith("≈ counted from the record")
    assert [(item.left_s, item.is_doubtful) for item in rail_of(again)] == [(9, True)]


def test_a_press_that_is_still_closed_after_its_hit_calls_at_once(
    flow: Flow, store: Store, clock: HeldClock, tmp_path: Path
) -> None:
    again = interrupted(flow, store, clock, tmp_path, after_s=40)
    tap(again, Tap.STILL_CLOSED)
    again.tick()

    assert again.signals.take() == [Cue.HIT_OVER]
    tap_primary(again)
    assert [answer.text.split()[0] for answer in card_of(again).answers] == ["15", "40", "In"]


@pytest.mark.parametrize("clock_set_s", [-3_600, 0, 86_400])
def test_after_an_interruption_a_longer_closing_than_the_record_allows_is_taken(
    flow: Flow, store: Store, clock: HeldClock, tmp_path: Path, clock_set_s: int
) -> None:
    flow.scan(codes_of(store)[0])
    tap(flow, Tap.CLOSE_PRESS)
    clock.advance(20)
    clock.set_ahead(clock_set_s)
    again = flow_on(store, clock, tmp_path)
    again.scan(codes_of(store)[0])
    tap(again, Tap.STILL_CLOSED)
    tap(again, Tap.OPENED_EARLY)
    again.enter_seconds(300)

    assert opening_told(again) == Opened(300, judged=True)


def test_no_seconds_are_no_answer(flow: Flow, store: Store, clock: HeldClock, tmp_path: Path) -> None:
    again = interrupted(flow, store, clock, tmp_path, after_s=20)
    tap(again, Tap.OPENED_EARLY)
    again.enter_seconds(0)

    assert again.notice is not None
    assert "0 s under the press is no hit" in again.notice.text
    assert state_of(again) == State.PRESSING


def test_a_machine_that_slept_through_a_hit_asks_when_it_was_opened(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    flow.scan(codes_of(store)[0])
    tap(flow, Tap.CLOSE_PRESS)
    clock.advance(600)
    tap_primary(flow)

    assert state_of(flow) == State.PRESSING
    assert card_of(flow).heading == "Hit 1 of 2: when was it opened?"
    assert "9:45 ago" in card_of(flow).body


def test_a_hit_on_the_rail_that_was_slept_through_is_over_and_called(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    first, second = codes_of(store)
    flow.scan(first)
    tap(flow, Tap.CLOSE_PRESS)
    flow.scan(second)
    clock.advance(600)
    flow.tick()

    assert [(item.code, item.left_s) for item in rail_of(flow)] == [(first, 0)]
    assert flow.signals.take() == [Cue.HIT_OVER]


def test_a_hit_that_was_cut_off_stands_on_the_rail_of_the_app_that_is_opened_again(
    flow: Flow, store: Store, clock: HeldClock, tmp_path: Path
) -> None:
    code = codes_of(store)[0]
    flow.scan(code)
    tap(flow, Tap.CLOSE_PRESS)
    reopened = flow_on(store, clock, tmp_path)

    assert [(item.code, item.left_s) for item in rail_of(reopened)] == [(code, None)]


def closed(flow: Flow, store: Store) -> None:
    flow.scan(codes_of(store)[0])
    tap(flow, Tap.CLOSE_PRESS)


def opening_told(flow: Flow) -> Opened:
    """The last opening in the garment's log."""
    return [event.what for event in flow.in_hand.log if isinstance(event.what, Opened)][-1]


@pytest.mark.parametrize("late_s", [0, 10])
def test_a_tap_soon_after_the_end_means_that_the_press_was_opened_at_the_end(
    flow: Flow, store: Store, clock: HeldClock, late_s: int
) -> None:
    closed(flow, store)
    clock.advance(15 + late_s)
    tap_primary(flow)

    assert opening_told(flow) == Opened(15)


def test_a_tap_long_after_the_end_asks_when_the_press_was_opened(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    closed(flow, store)
    clock.advance(57)
    tap_primary(flow)
    card = card_of(flow)

    assert state_of(flow) == State.PRESSING
    assert card.heading == "Hit 1 of 2: when was it opened?"
    assert "0:42 ago" in card.body
    assert [answer.text.split()[0] for answer in card.answers] == ["15", "57", "In"]
    assert running_of(flow) is None


@pytest.mark.parametrize(("answer", "seconds"), [(0, 15), (1, 57)])
def test_what_the_operator_says_of_a_late_opening_is_recorded_as_judged(
    flow: Flow, store: Store, clock: HeldClock, answer: int, seconds: int
) -> None:
    closed(flow, store)
    clock.advance(57)
    tap_primary(flow)
    flow.act(card_of(flow).answers[answer].action)

    assert opening_told(flow) == Opened(seconds, judged=True)
    assert state_of(flow) == State.PEELING


def test_seconds_in_between_can_be_told_of_a_late_opening(flow: Flow, store: Store, clock: HeldClock) -> None:
    closed(flow, store)
    clock.advance(57)
    tap_primary(flow)
    flow.act(card_of(flow).answers[2].action)
    flow.enter_seconds(30)

    assert opening_told(flow) == Opened(30, judged=True)


def test_more_seconds_than_the_press_was_closed_are_refused_in_a_line(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    closed(flow, store)
    clock.advance(9)
    tap(flow, Tap.OPENED_EARLY)
    flow.enter_seconds(90)

    assert flow.screen == ScreenName.SECONDS_ENTRY
    assert flow.notice is not None
    assert "came down 9 s ago" in flow.notice.text


def test_the_check_says_what_stayed_closed_too_long(flow: Flow, store: Store, clock: HeldClock) -> None:
    closed(flow, store)
    clock.advance(57)
    tap_primary(flow)
    flow.act(card_of(flow).answers[1].action)
    tap(flow, Tap.PEEL, Peel.HOT.value)
    flow.scan(codes_of(store)[0])
    tap(flow, Tap.PEEL, Peel.COLD.value)
    group = card_of(flow).groups[0]

    assert group.heading.startswith("Closed too long")
    assert any(line.text.startswith("57 s in one hit, at most") for line in group.lines)


def test_the_check_of_a_hit_of_its_dwell_says_nothing_of_the_kind(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    to_the_check(flow, clock, codes_of(store)[0])

    assert card_of(flow).groups[0].heading == "Rub what was just pressed"
