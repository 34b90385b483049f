"""A countdown is the difference of two readings of a clock."""

import pytest

from models.garment.countdown import Countdown
from tests.held_clock import HeldClock


@pytest.fixture
def clock() -> HeldClock:
    return HeldClock()


def test_a_countdown_begins_with_all_its_seconds(clock: HeldClock) -> None:
    countdown = Countdown.start(clock, 15)
    assert (countdown.left_s(clock), countdown.run_s(clock)) == (15, 0)
    assert countdown.fraction_left(clock) == 1


def test_a_countdown_is_right_after_a_stalled_screen(clock: HeldClock) -> None:
    countdown = Countdown.start(clock, 15)
    clock.advance(7)
    assert (countdown.left_s(clock), countdown.run_s(clock)) == (8, 7)


def test_many_small_steps_end_where_one_large_step_does(clock: HeldClock) -> None:
    countdown = Countdown.start(clock, 15)
    for _ in range(150):
        clock.advance(0.1)
    assert countdown.is_over(clock)


def test_the_last_second_shows_until_it_is_wholly_over(clock: HeldClock) -> None:
    countdown = Countdown.start(clock, 15)
    clock.advance(14.999_999_999)
    assert (countdown.left_s(clock), countdown.run_s(clock)) == (1, 14)
    assert not countdown.is_over(clock)


def test_at_the_exact_second_it_is_over(clock: HeldClock) -> None:
    countdown = Countdown.start(clock, 15)
    clock.advance(15)
    assert (countdown.left_s(clock), countdown.run_s(clock)) == (0, 15)
    assert countdown.is_over(clock)


def test_a_countdown_never_runs_below_nothing(clock: HeldClock) -> None:
    countdown = Countdown.start(clock, 15)
    clock.advance(3_600)
    assert (countdown.left_s(clock), countdown.run_s(clock)) == (0, 3_600)
    assert countdown.fraction_left(clock) == 0


def test_half_way_half_is_left(clock: HeldClock) -> None:
    countdown = Countdown.start(clock, 20)
    clock.advance(10)
    assert countdown.fraction_left(clock) == 0.5


def test_a_countdown_of_no_seconds_is_over_at_once(clock: HeldClock) -> None:
    countdown = Countdown.start(clock, 0)
    assert countdown.is_over(clock)
    assert countdown.fraction_left(clock) == 0


def test_a_machine_that_slept_finds_the_time_that_has_passed_run_off(clock: HeldClock) -> None:
    """The monotonic clock goes on while the machine sleeps: sleep is time like any other."""
    countdown = Countdown.start(clock, 15)
    clock.advance(4)
    clock.advance(600)
    assert (countdown.left_s(clock), countdown.overrun_s(clock)) == (0, 589)


@pytest.mark.parametrize("step_s", [3, 86_400, -3_600])
def test_a_clock_that_is_set_moves_no_countdown(clock: HeldClock, step_s: int) -> None:
    countdown = Countdown.start(clock, 15)
    clock.advance(4)
    clock.set_ahead(step_s)
    assert countdown.left_s(clock) == 11


def test_a_countdown_may_have_begun_before_it_is_counted(clock: HeldClock) -> None:
    countdown = Countdown.start(clock, 15, run_s=6.0)
    clock.advance(4)
    assert countdown.left_s(clock) == 5
