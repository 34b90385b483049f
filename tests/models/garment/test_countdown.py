"""A countdown is the difference of two readings of a clock."""

import pytest

from models.garment.countdown import Countdown
from tests.held_clock import HeldClock


@pytest.fixture
def clock() -> HeldClock:
    return HeldClock()


def test_a_countdown_begins_with_all_its_seconds(clock: HeldClock) -> None:
    countdown = Countdown.start(clock, 15)
    assert (countdown.left_s(clock), countdown.elapsed_s(clock)) == (15, 0)
    assert countdown.fraction_left(clock) == 1


def test_a_countdown_is_right_after_a_stalled_screen(clock: HeldClock) -> None:
    countdown = Countdown.start(clock, 15)
    clock.advance(7)
    assert (countdown.left_s(clock), countdown.elapsed_s(clock)) == (8, 7)


def test_many_small_steps_end_where_one_large_step_does(clock: HeldClock) -> None:
    countdown = Countdown.start(clock, 15)
    for _ in range(150):
        clock.advance(0.1)
    assert countdown.is_over(clock)


def test_the_last_second_shows_until_it_is_wholly_over(clock: HeldClock) -> None:
    countdown = Countdown.start(clock, 15)
    clock.advance(14.999_999_999)
    assert (countdown.left_s(clock), countdown.elapsed_s(clock)) == (1, 14)
    assert not countdown.is_over(clock)


def test_at_the_exact_second_it_is_over(clock: HeldClock) -> None:
    countdown = Countdown.start(clock, 15)
    clock.advance(15)
    assert (countdown.left_s(clock), countdown.elapsed_s(clock)) == (0, 15)
    assert countdown.is_over(clock)


def test_a_countdown_never_runs_below_nothing(clock: HeldClock) -> None:
    countdown = Countdown.start(clock, 15)
    clock.advance(3_600)
    assert (countdown.left_s(clock), countdown.elapsed_s(clock)) == (0, 15)
    assert countdown.fraction_left(clock) == 0


def test_half_way_half_is_left(clock: HeldClock) -> None:
    countdown = Countdown.start(clock, 20)
    clock.advance(10)
    assert countdown.fraction_left(clock) == 0.5


def test_a_countdown_of_no_seconds_is_over_at_once(clock: HeldClock) -> None:
    countdown = Countdown.start(clock, 0)
    assert countdown.is_over(clock)
    assert countdown.fraction_left(clock) == 0


def test_a_countdown_through_which_the_machine_slept_is_doubtful(clock: HeldClock) -> None:
    countdown = Countdown.start(clock, 15)
    clock.advance(4)
    clock.sleep_machine(2.5)
    assert countdown.is_doubtful(clock)


def test_clocks_may_drift_a_little_apart(clock: HeldClock) -> None:
    countdown = Countdown.start(clock, 15)
    clock.advance(4)
    clock.sleep_machine(2)
    assert not countdown.is_doubtful(clock)


def test_a_wall_clock_set_back_makes_a_countdown_doubtful(clock: HeldClock) -> None:
    countdown = Countdown.start(clock, 15)
    clock.sleep_machine(-60)
    assert countdown.is_doubtful(clock)
