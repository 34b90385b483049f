"""What is wrong with the clocks of a floor is told once, with its mend."""

from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest

from floorapp.clock_watch import ClockWatch
from floorapp.screens.floor_presenter import rail_of
from floorapp.screens.pressing_presenter import running_of
from floorapp.views import Cue, Tap
from models.clock import SteadyClock
from models.garment.progress import Recipe
from models.job.job import Peel
from tests.floorapp.driver import LANDSCAPE, PORTRAIT, Driver
from tests.floorapp.press_operator import PressOperator, app_on
from tests.floorapp.taps import press, tap
from tests.held_clock import HeldClock
from tests.small_floor import codes_of, flow_on, loaded_store, rested_vests

STEPS = pytest.mark.parametrize("step_s", [3, -3, 86_400, -3_600], ids=["3 s", "-3 s", "+1 day", "-1 h"])
SIZES = pytest.mark.parametrize("size", [LANDSCAPE, PORTRAIT], ids=["landscape", "portrait"])


@pytest.fixture
def recipe() -> Recipe:
    return rested_vests(2)


def told(watch: ClockWatch, steady: SteadyClock, ahead_s: float = 0) -> list[str]:
    return list(watch.look(steady.utc_now() + timedelta(seconds=ahead_s)))


def test_clocks_that_agree_within_two_seconds_are_not_told(clock: HeldClock) -> None:
    steady = SteadyClock(clock)
    clock.set_ahead(2)

    assert told(ClockWatch(steady, is_on_server=False), steady, ahead_s=2) == []


@STEPS
def test_a_clock_that_is_set_is_told_once_with_its_mend(clock: HeldClock, step_s: int) -> None:
    steady = SteadyClock(clock)
    watch = ClockWatch(steady, is_on_server=False)
    clock.set_ahead(step_s)
    (line,) = told(watch, steady)

    assert ("ahead" if step_s > 0 else "back") in line
    assert "Start the app anew when nothing is pressed or rests." in line
    assert told(watch, steady) == []


def test_a_clock_that_is_set_again_is_told_again_and_one_set_right_is_not(clock: HeldClock) -> None:
    steady = SteadyClock(clock)
    watch = ClockWatch(steady, is_on_server=False)
    clock.set_ahead(600)
    first = told(watch, steady)
    clock.set_ahead(600)
    second = told(watch, steady)
    clock.set_ahead(-1200)

    assert ["10 min" in line for line in first] == [True]
    assert ["20 min" in line for line in second] == [True]
    assert told(watch, steady) == []


@pytest.mark.parametrize("differs_s", [-600, -5, 5, 600])
def test_a_station_whose_clock_differs_from_the_servers_says_so(clock: HeldClock, differs_s: int) -> None:
    steady = SteadyClock(clock)
    steady.follow(-differs_s)
    (line,) = told(ClockWatch(steady, is_on_server=True), steady)

    assert ("ahead of the server's" if differs_s > 0 else "behind the server's") in line
    assert "Let a time server set this station's clock." in line


def test_a_record_from_the_future_is_told_once(clock: HeldClock) -> None:
    steady = SteadyClock(clock)
    watch = ClockWatch(steady, is_on_server=False)
    (line,) = told(watch, steady, ahead_s=3_600)

    assert "60 min ahead of this clock" in line
    assert told(watch, steady, ahead_s=3_600) == []


@pytest.fixture
def sit_down_at(
    start_app: Callable[..., Driver], clock: HeldClock, tmp_path: Path, recipe: Recipe
) -> Iterator[Callable[[tuple[int, int]], PressOperator]]:
    """A person before the whole app, which goes by a steady clock over the computer's."""
    steady = SteadyClock(clock)
    with closing(loaded_store(tmp_path / "steady", steady, recipe)) as store:
        yield lambda size: PressOperator(start_app(lambda _: app_on(store, tmp_path, steady), size))


SitDownAt = Callable[[tuple[int, int]], PressOperator]


@STEPS
def test_a_clock_that_is_set_in_mid_hit_moves_no_countdown_and_no_cue(
    sit_down_at: SitDownAt, clock: HeldClock, step_s: int
) -> None:
    operator = sit_down_at(LANDSCAPE)
    operator.scan(codes_of(operator.flow.work.store)[0])
    operator.tap("Laid")
    operator.driver.advance(5)
    clock.set_ahead(step_s)
    operator.driver.advance(1, draw=True)
    in_mid_hit = running_of(operator.flow)
    is_told = operator.sees("This computer's clock was set")
    operator.driver.advance(10, draw=True)

    assert in_mid_hit is not None
    assert in_mid_hit.left_s == 9
    assert is_told
    assert operator.desk.is_flashing
    operator.tap("The press is open")
    assert operator.flow.in_hand.log[-1].what.seconds == 15  # type: ignore[union-attr]  # it is an opening


@STEPS
def test_a_clock_that_is_set_in_a_rest_neither_ends_nor_lengthens_it(
    sit_down_at: SitDownAt, clock: HeldClock, step_s: int
) -> None:
    operator = sit_down_at(LANDSCAPE)
    operator.scan(codes_of(operator.flow.work.store)[0])
    operator.press()
    operator.tap("Hot ones off")
    (before,) = rail_of(operator.flow)
    clock.set_ahead(step_s)
    operator.driver.advance(20)

    (after,) = rail_of(operator.flow)
    assert before.left_s is not None
    assert after.left_s == before.left_s - 20
    assert operator.sees("Countdowns and rests do not go by it")


@SIZES
def test_the_line_about_the_clock_stands_until_it_is_tapped_away(
    sit_down_at: SitDownAt, clock: HeldClock, size: tuple[int, int]
) -> None:
    operator = sit_down_at(size)
    clock.set_ahead(600)
    operator.driver.advance(0.5, draw=True)
    operator.scan(codes_of(operator.flow.work.store)[0])
    operator.driver.advance(0.5, draw=True)
    after_a_scan = operator.sees("This computer's clock was set 10 min ahead")
    operator.driver.tap(operator.desk.root.ids.notice)
    operator.driver.advance(0.5, draw=True)

    assert after_a_scan
    assert not operator.sees("This computer's clock was set")


def test_after_a_restart_with_the_clock_set_back_the_record_is_told_to_be_ahead(
    clock: HeldClock, tmp_path: Path, recipe: Recipe
) -> None:
    with closing(loaded_store(tmp_path / "shop", clock, recipe)) as store:
        flow = flow_on(store, clock, tmp_path)
        flow.scan(codes_of(store)[0])
        press(flow, clock)
        tap(flow, Tap.PEEL, Peel.HOT.value)
        clock.set_ahead(-3_600)
        again = flow_on(store, clock, tmp_path)
        again.tick()

    assert again.standing.first is not None
    assert "60 min ahead of this clock" in again.standing.first.text
    assert Cue.REST_OVER not in again.signals.take()
