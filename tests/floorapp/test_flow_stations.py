"""Two stations and one garment: neither works it unknown to the other."""

from pathlib import Path

from floorapp.flow import Flow
from floorapp.screens.garment_presenter import running_of
from floorapp.views import Tap
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
