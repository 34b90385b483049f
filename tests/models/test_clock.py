"""Time that is counted on from one reading, whatever becomes of the computer's clock."""

import time
from datetime import timedelta

import pytest

from models.clock import SteadyClock, SystemClock
from tests.held_clock import MORNING, HeldClock


@pytest.fixture
def computer() -> HeldClock:
    return HeldClock()


def test_a_steady_clock_goes_with_the_computers_until_that_is_set(computer: HeldClock) -> None:
    steady = SteadyClock(computer)
    computer.advance(7.25)

    assert steady.utc_now() == MORNING + timedelta(seconds=7.25)
    assert steady.wall_ahead_s() == 0


@pytest.mark.parametrize("step_s", [3, 86_400, -3_600])
def test_a_steady_clock_does_not_follow_when_the_computers_is_set(computer: HeldClock, step_s: int) -> None:
    steady = SteadyClock(computer)
    computer.advance(5)
    computer.set_ahead(step_s)
    computer.advance(5)

    assert steady.utc_now() == MORNING + timedelta(seconds=10)
    assert steady.wall_ahead_s() == step_s


def test_a_station_that_follows_the_server_tells_how_far_its_own_clock_is_off(computer: HeldClock) -> None:
    steady = SteadyClock(computer)
    steady.follow(8)

    assert steady.utc_now() == MORNING + timedelta(seconds=8)
    assert steady.wall_ahead_s() == -8


def test_the_systems_monotonic_time_counts_the_sleep_of_the_machine(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[int] = []
    monkeypatch.setattr(time, "clock_gettime_ns", lambda clock: asked.append(clock) or 5)

    assert SystemClock().monotonic_ns() == 5
    assert asked == [time.CLOCK_BOOTTIME]


def test_the_systems_clock_tells_the_time_of_day() -> None:
    before, told, after = time.time(), SystemClock().utc_now().timestamp(), time.time()
    assert before - 1e-3 <= told <= after + 1e-3
    assert SystemClock().wall_ahead_s() == 0
