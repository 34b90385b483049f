"""What is due calls until somebody comes: a press to open ever more urgently, a garment to peel gently."""

from collections.abc import Callable
from pathlib import Path

import pytest

from floorapp.flow import Flow
from floorapp.sounds import Sounds
from floorapp.views import Cue, Tap
from models.clock import HeldClock
from models.garment.cycle import State
from models.store.store import Store
from tests.floorapp.driver import LANDSCAPE, PORTRAIT, Driver
from tests.floorapp.press_operator import PressOperator, app_on
from tests.floorapp.taps import press, state_of, tap, tap_primary, to_rest
from tests.small_floor import codes_of

SIZES = pytest.mark.parametrize("size", [LANDSCAPE, PORTRAIT], ids=["landscape", "portrait"])


def calls_within(flow: Flow, clock: HeldClock, seconds: int) -> list[tuple[int, Cue, float]]:
    """What is called in so many seconds, from now on: when, which cue, how loud."""
    flow.signals.take()
    called = []
    for second in range(seconds + 1):
        flow.tick()
        called += [(second, cue, flow.signals.loudness(cue)) for cue in flow.signals.take()]
        clock.advance(1)
    return called


@pytest.fixture
def over(flow: Flow, store: Store, clock: HeldClock) -> Flow:
    """The hit of the first vest has just come to its end."""
    flow.scan(codes_of(store)[0])
    tap(flow, Tap.CLOSE_PRESS)
    clock.advance(15)
    return flow


def test_a_press_to_open_calls_ever_closer_and_louder(over: Flow, clock: HeldClock) -> None:
    called = calls_within(over, clock, 20)

    assert {cue for _, cue, _ in called} == {Cue.HIT_OVER}
    assert [at for at, _, _ in called] == [0, 8, 12, 14, 16, 18, 20]
    assert [loud for _, _, loud in called] == [0.7, 0.8, 0.9, 1.0, 1.0, 1.0, 1.0]


def test_it_calls_for_minutes_from_whatever_screen(over: Flow, clock: HeldClock) -> None:
    tap(over, Tap.TO_FLOOR)
    calls_within(over, clock, 300)

    assert len(calls_within(over, clock, 60)) >= 30


def test_it_is_still_once_somebody_says_that_the_press_is_open(over: Flow, clock: HeldClock) -> None:
    tap_primary(over)

    assert state_of(over) == State.PEELING
    assert calls_within(over, clock, 60) == []


def test_it_is_still_while_somebody_answers_and_calls_again_if_they_leave(
    over: Flow, clock: HeldClock
) -> None:
    clock.advance(60)
    tap_primary(over)
    asked = calls_within(over, clock, 14)
    tap(over, Tap.OPENED_EARLY)
    typing = calls_within(over, clock, 14)
    tap(over, Tap.TO_FLOOR)

    assert (asked, typing) == ([], [])
    assert calls_within(over, clock, 0) == [(0, Cue.HIT_OVER, 0.7)]


@pytest.mark.parametrize("after_s", [3, 20])
def test_a_slip_on_opened_early_silences_no_hit(flow: Flow, clock: HeldClock, after_s: int) -> None:
    """A finger touched it while the hit ran, or after its end, and nobody typed the seconds."""
    flow.scan(codes_of(flow.work.store)[0])
    tap(flow, Tap.CLOSE_PRESS)
    clock.advance(after_s)
    tap(flow, Tap.OPENED_EARLY)

    assert calls_within(flow, clock, 10) == []
    assert Cue.HIT_OVER in [cue for _, cue, _ in calls_within(flow, clock, 10)]


def test_a_clock_that_is_set_moves_no_call(over: Flow, clock: HeldClock) -> None:
    over.tick()
    clock.set_ahead(86_400)

    assert [at for at, cue, _ in calls_within(over, clock, 12) if cue == Cue.HIT_OVER] == [8, 12]


def test_a_garment_that_has_rested_calls_gently_until_it_is_taken(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    code = codes_of(store)[0]
    to_rest(flow, clock, code)
    called = calls_within(flow, clock, 125)
    first = called[0][0]
    flow.scan(code)
    tap_primary(flow)

    assert [(at - first, cue) for at, cue, _ in called] == [
        (0, Cue.REST_OVER),
        (30, Cue.REST_OVER),
        (60, Cue.REST_OVER),
    ]
    assert {loud for _, _, loud in called} == {0.6}
    assert calls_within(flow, clock, 60) == []


def test_several_garments_that_have_rested_call_together(flow: Flow, store: Store, clock: HeldClock) -> None:
    for code in codes_of(store):
        flow.scan(code)
        press(flow, clock)
        tap_primary(flow)
    calls_within(flow, clock, 200)

    assert len(calls_within(flow, clock, 59)) == 2


@SIZES
def test_the_frame_flashes_at_each_call_until_the_press_is_open(
    sit_down: Callable[..., PressOperator], store: Store, size: tuple[int, int]
) -> None:
    operator = sit_down(size)
    operator.scan(codes_of(store)[0])
    operator.tap("Laid")
    operator.driver.advance(15.2, draw=True)
    at_the_end = operator.desk.root.is_flashing
    operator.driver.advance(6)
    between = operator.desk.root.is_flashing
    operator.driver.advance(2.2)
    again = operator.desk.root.is_flashing
    operator.tap("The press is open")
    operator.driver.advance(20)

    assert (at_the_end, between, again) == (True, False, True)
    assert not operator.desk.root.is_flashing


class Muted:
    """A sound of a machine without a device."""

    length, volume, state = 0.0, 1.0, "stop"


@SIZES
def test_a_machine_without_sound_says_so_on_the_screen_at_the_start(
    start_app: Callable[..., Driver], store: Store, tmp_path: Path, size: tuple[int, int]
) -> None:
    silent = Sounds(load=lambda _: Muted())
    operator = PressOperator(start_app(lambda clock: app_on(store, tmp_path, clock, sounds=silent), size))
    operator.driver.advance(0.5, draw=True)

    assert operator.sees("This device plays no sound: only the frame flashes.")
    operator.driver.tap(operator.desk.root.ids.notice)
    operator.driver.advance(0.5, draw=True)
    assert not operator.sees("This device plays no sound")


def test_a_sound_that_fails_later_is_said_as_well(
    start_app: Callable[..., Driver], store: Store, tmp_path: Path
) -> None:
    sounds = Sounds()
    operator = PressOperator(start_app(lambda clock: app_on(store, tmp_path, clock, sounds=sounds)))
    operator.driver.advance(0.5, draw=True)
    at_first = operator.sees("This device plays no sound")
    sounds._loaded.clear()
    sounds._load = lambda _: Muted()
    operator.scan(codes_of(store)[0])
    operator.tap("Laid")
    operator.driver.advance(15.2, draw=True)

    assert not at_first
    assert operator.sees("This device plays no sound")
    assert operator.desk.root.is_flashing
