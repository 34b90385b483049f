"""A hit from the laying to the last peel, and the rest of a garment."""

from floorapp.flow import Flow
from floorapp.screen_names import ScreenName
from floorapp.screens.floor_presenter import rail_of
from floorapp.screens.garment_presenter import card_of
from floorapp.screens.pressing_presenter import running_of
from floorapp.views import Cue, Tap
from models.garment.cycle import State
from models.job.job import Peel, Pressure
from models.store.store import Store
from tests.floorapp.taps import press, state_of, tap, tap_primary, to_the_check
from tests.floorapp.what_is_told import plain
from tests.held_clock import HeldClock
from tests.small_floor import codes_of


def test_the_countdown_runs_from_the_closing_to_the_dwell(flow: Flow, store: Store, clock: HeldClock) -> None:
    flow.scan(codes_of(store)[0])
    tap(flow, Tap.CLOSE_PRESS)
    clock.advance(7)
    running = running_of(flow)

    assert running is not None
    assert running.left_s == 8
    assert running.primary is None


def test_the_countdown_tells_the_heat_in_both_degrees(flow: Flow, store: Store) -> None:
    flow.scan(codes_of(store)[0])
    tap(flow, Tap.CLOSE_PRESS)
    running = running_of(flow)

    assert running is not None
    assert plain(running.words).startswith("of 15 s · 149 °C (300 °F) · medium · then peel ")


def test_a_hot_peel_is_called_when_the_press_is_open(flow: Flow, store: Store, clock: HeldClock) -> None:
    flow.scan(codes_of(store)[0])
    press(flow, clock)

    assert Cue.PEEL_NOW in flow.signals.take()


def test_hot_pieces_come_off_first_and_the_cold_ones_send_the_garment_to_rest(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    flow.scan(codes_of(store)[0])
    press(flow, clock)
    tap_primary(flow)

    assert state_of(flow) == State.RESTING
    assert flow.screen == ScreenName.FLOOR
    assert [item.left_s for item in rail_of(flow)] == [60]


def test_several_garments_rest_and_each_calls_when_it_is_ready(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    for code in codes_of(store):
        flow.scan(code)
        press(flow, clock)
        tap(flow, Tap.PEEL, Peel.HOT.value)
    flow.signals.take()
    clock.advance(45)
    flow.tick()
    first = flow.signals.take()
    clock.advance(15)
    flow.tick()

    assert first == [Cue.REST_OVER]
    assert flow.signals.take() == [Cue.REST_OVER]


def test_a_garment_works_while_another_rests(flow: Flow, store: Store, clock: HeldClock) -> None:
    first, second = codes_of(store)
    flow.scan(first)
    press(flow, clock)
    tap(flow, Tap.PEEL, Peel.HOT.value)
    flow.scan(second)

    assert state_of(flow) == State.LAYING
    assert [item.code for item in rail_of(flow)] == [first]


def test_a_resting_garment_called_during_another_peel_opens(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    first, second = codes_of(store)
    flow.scan(first)
    press(flow, clock)
    tap(flow, Tap.PEEL, Peel.HOT.value)
    flow.scan(second)
    press(flow, clock)
    flow.scan(first)

    assert flow.screen == ScreenName.GARMENT
    assert flow.in_hand.row.code == first


def test_all_hits_checked_complete_the_garment(flow: Flow, store: Store, clock: HeldClock) -> None:
    to_the_check(flow, clock, codes_of(store)[0])
    tap_primary(flow)
    press(flow, clock)
    tap_primary(flow)

    assert state_of(flow) == State.COMPLETE
    assert card_of(flow).heading == "Done"


def test_a_changed_temperature_stands_out(flow: Flow, store: Store, clock: HeldClock) -> None:
    from floorapp.running_hits import PressSetting
    from floorapp.views import Tone

    flow.press.running.last_settings = {"": PressSetting(160, Pressure.MEDIUM, pad=True, cover=False)}
    flow.scan(codes_of(store)[0])
    heat = card_of(flow).settings[0]

    assert heat.tone == Tone.ATTENTION
    assert plain(heat.small) == "300 °F · change it from 160 °C (320 °F)"


def test_a_tap_can_be_taken_back_and_nothing_is_deleted(flow: Flow, store: Store) -> None:
    flow.scan(codes_of(store)[0])
    tap(flow, Tap.CLOSE_PRESS)
    tap(flow, Tap.TAKE_BACK)

    assert state_of(flow) == State.LAYING
    assert running_of(flow) is None
    assert len(store.garment(flow.in_hand.row.code).log) == 3


def test_nothing_to_take_back_is_a_line(flow: Flow, store: Store) -> None:
    flow.scan(codes_of(store)[0])
    tap(flow, Tap.TAKE_BACK)
    tap(flow, Tap.TAKE_BACK)

    assert flow.notice is not None


def test_after_the_scan_is_taken_back_the_press_can_still_be_closed(flow: Flow, store: Store) -> None:
    flow.scan(codes_of(store)[0])
    tap(flow, Tap.TAKE_BACK)
    tap_primary(flow)

    assert state_of(flow) == State.PRESSING


def test_a_hit_on_the_rail_counts_down_and_calls_as_on_the_screen(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    first, second = codes_of(store)
    flow.scan(first)
    tap(flow, Tap.CLOSE_PRESS)
    flow.scan(second)
    clock.advance(6)
    left_s = [item.left_s for item in rail_of(flow)]
    clock.advance(9)
    flow.tick()

    assert left_s == [9]
    assert flow.signals.take() == [Cue.HIT_OVER]


def test_the_garment_on_the_screen_is_not_on_the_rail_as_well(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    first, second = codes_of(store)
    for code in (first, second):
        flow.scan(code)
        press(flow, clock)
        tap(flow, Tap.PEEL, Peel.HOT.value)
    flow.scan(first)

    assert [item.code for item in rail_of(flow)] == [second]


def test_a_hit_that_is_over_tells_for_how_long(flow: Flow, store: Store, clock: HeldClock) -> None:
    flow.scan(codes_of(store)[0])
    tap(flow, Tap.CLOSE_PRESS)
    clock.advance(22)
    running = running_of(flow)

    assert running is not None
    assert running.words.startswith("over for 0:07")
