"""Two stations and one garment: neither works it unknown to the other."""

from pathlib import Path

import pytest

from floorapp.flow import Flow
from floorapp.screen_names import ScreenName
from floorapp.screens.garment_presenter import card_of
from floorapp.screens.pressing_presenter import running_of
from floorapp.views import Cue, Tap
from models.floor.remedies import Remedies
from models.floor.work import Seat
from models.garment.cycle import State
from models.store.store import Store
from tests.floorapp.taps import state_of, tap
from tests.held_clock import HeldClock
from tests.small_floor import codes_of, flow_on


def test_a_garment_that_another_station_has_is_told(
    flow: Flow, store: Store, clock: HeldClock, tmp_path: Path
) -> None:
    code = codes_of(store)[0]
    flow.scan(code)
    elsewhere = flow_on(store, clock, tmp_path, station="Station 2")
    elsewhere.scan(code)

    assert elsewhere.notice is not None
    assert "Station 1" in elsewhere.notice.text


def test_a_station_that_lost_its_garment_cannot_work_it_unknowing(
    flow: Flow, store: Store, clock: HeldClock, tmp_path: Path
) -> None:
    code = codes_of(store)[0]
    flow.scan(code)
    elsewhere = flow_on(store, clock, tmp_path, station="Station 2")
    elsewhere.scan(code)
    tap(flow, Tap.CLOSE_PRESS)

    assert flow.notice is not None
    assert store.garment(code).progress.state == State.LAYING
    assert flow.in_hand.progress.seq == store.garment(code).progress.seq


def test_never_closed_goes_back_before_the_closing_whoever_looked_since(
    flow: Flow, store: Store, clock: HeldClock, tmp_path: Path
) -> None:
    code = codes_of(store)[0]
    flow.scan(code)
    tap(flow, Tap.CLOSE_PRESS)
    elsewhere = flow_on(store, clock, tmp_path, station="Station 2")
    elsewhere.scan(code)
    tap(elsewhere, Tap.NEVER_CLOSED)

    assert state_of(elsewhere) == State.LAYING


def test_a_countdown_is_not_shown_for_another_closing(
    flow: Flow, store: Store, clock: HeldClock, tmp_path: Path
) -> None:
    first, second = codes_of(store)
    flow.scan(first)
    tap(flow, Tap.CLOSE_PRESS)
    flow.scan(second)
    elsewhere = flow_on(store, clock, tmp_path, station="Station 2")
    elsewhere.scan(first)
    clock.advance(15)
    tap(elsewhere, Tap.NEVER_CLOSED)
    clock.advance(5)
    tap(elsewhere, Tap.CLOSE_PRESS)
    flow.scan(first)

    assert running_of(flow) is None
    assert flow.is_interrupted


def test_a_garment_that_only_was_looked_at_elsewhere_keeps_its_countdown_when_it_comes_back(
    flow: Flow, store: Store, clock: HeldClock, tmp_path: Path
) -> None:
    code = codes_of(store)[0]
    flow.scan(code)
    tap(flow, Tap.CLOSE_PRESS)
    flow_on(store, clock, tmp_path, station="Station 2").scan(code)
    clock.advance(5)
    flow.scan(code)
    running = running_of(flow)

    assert running is not None
    assert running.left_s == 10


@pytest.mark.parametrize("left_standing", [Tap.OPENED_EARLY, Tap.LOOK_CLOSER, Tap.WHY, None])
def test_a_screen_left_standing_is_left_when_another_station_has_worked_its_garment(
    flow: Flow, store: Store, clock: HeldClock, tmp_path: Path, *, left_standing: Tap | None
) -> None:
    code = codes_of(store)[0]
    flow.scan(code)
    tap(flow, Tap.CLOSE_PRESS)
    if left_standing is not None:
        tap(flow, left_standing)
    elsewhere = flow_on(store, clock, tmp_path, station="Station 2")
    elsewhere.scan(code)
    tap(elsewhere, Tap.NEVER_CLOSED)

    flow.look_around()
    assert flow.screen == ScreenName.GARMENT
    assert state_of(flow) == State.LAYING
    assert flow.notice is not None
    assert flow.notice.text == "Station 2 has worked on this garment; this is where it stands now"


def test_a_screen_left_standing_stays_while_nobody_works_its_garment(flow: Flow, store: Store) -> None:
    flow.scan(codes_of(store)[0])
    tap(flow, Tap.CLOSE_PRESS)
    tap(flow, Tap.OPENED_EARLY)

    flow.look_around()
    assert flow.screen == ScreenName.SECONDS_ENTRY
    assert flow.notice is None


def test_a_garment_that_another_station_takes_out_is_not_pressed_on(flow: Flow, store: Store) -> None:
    flow.scan(codes_of(store)[0])
    Remedies(store, Seat("Station 2", "Per")).take_out(flow.in_hand, "torn")
    flow.look_around()
    assert flow.notice is not None
    assert "was taken out of its batch (torn); do not press it" in flow.notice.text
    assert card_of(flow).heading == "Taken out of its batch"


def test_a_garment_whose_batch_is_taken_back_elsewhere_leaves_the_screen(flow: Flow, store: Store) -> None:
    flow.scan(codes_of(store)[0])
    Remedies(store, Seat("Station 2", "Per")).withdraw(store.batch("LC-0147"))
    flow.look_around()
    assert flow.screen == ScreenName.FLOOR
    assert flow.notice is not None
    assert "taken back: do not press this garment" in flow.notice.text


def test_a_name_that_is_corrected_elsewhere_stands_on_the_screen(flow: Flow, store: Store) -> None:
    flow.scan(codes_of(store)[0])
    Remedies(store, Seat("Station 2", "Per")).correct(flow.in_hand, "Åse Berg", "12")
    flow.look_around()
    assert flow.in_hand.row.wearer == "Åse Berg"


def test_a_hit_that_another_station_scans_is_still_called_where_it_runs(
    flow: Flow, store: Store, clock: HeldClock, tmp_path: Path
) -> None:
    code = codes_of(store)[0]
    flow.scan(code)
    tap(flow, Tap.CLOSE_PRESS)
    elsewhere = flow_on(store, clock, tmp_path, station="Station 2")
    elsewhere.scan(code)
    assert elsewhere.notice is not None
    assert elsewhere.notice.text == "Station 1 has it under its press, and counts its seconds"
    primary = card_of(elsewhere).primary
    assert primary is not None
    assert primary.text == "To the floor"
    elsewhere.act(primary.action)
    assert elsewhere.screen == ScreenName.FLOOR

    flow.look_around()
    clock.advance(15)
    flow.tick()
    assert Cue.HIT_OVER in flow.signals.take()


def test_a_garment_under_the_press_of_a_lost_station_is_taken_up_by_a_finger(
    flow: Flow, store: Store, clock: HeldClock, tmp_path: Path
) -> None:
    code = codes_of(store)[0]
    flow.scan(code)
    tap(flow, Tap.CLOSE_PRESS)
    elsewhere = flow_on(store, clock, tmp_path, station="Station 2")
    elsewhere.scan(code)
    elsewhere.scan(code)  # as scanners do
    assert store.garment(code).progress.station == "Station 1"

    elsewhere.act(card_of(elsewhere).answers[0].action)
    assert elsewhere.is_interrupted
    assert elsewhere.in_hand.progress.station == "Station 2"
