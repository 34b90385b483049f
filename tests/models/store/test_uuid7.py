"""Ids sort as they were made, whatever the clock does."""

from random import Random

from hypothesis import given
from hypothesis import strategies as st

from models.store.uuid7 import EPOCH, Uuid7Maker
from tests.held_clock import MORNING, HeldClock


def test_ids_grow_while_the_clock_stands_still() -> None:
    new_id = Uuid7Maker(HeldClock(), Random(1))
    ids = [new_id() for _ in range(10_000)]
    assert ids == sorted(set(ids))


@given(st.lists(st.floats(-5, 5), max_size=30))
def test_ids_grow_even_if_the_clock_is_set_back(steps_s: list[float]) -> None:
    clock = HeldClock()
    new_id = Uuid7Maker(clock, Random(1))
    ids = [new_id()]
    for step_s in steps_s:
        clock.advance(step_s)
        ids.append(new_id())
    assert ids == sorted(set(ids))


def test_ids_of_two_stations_sort_by_their_clocks() -> None:
    early, late = HeldClock(), HeldClock()
    late.advance(0.000_001)
    assert Uuid7Maker(early, Random(2))() < Uuid7Maker(late, Random(1))()


def test_the_first_48_bits_are_the_milliseconds_since_1970() -> None:
    made = Uuid7Maker(HeldClock(), Random(1))()
    assert made.int >> 80 == (MORNING - EPOCH).total_seconds() * 1000


def test_the_same_clock_and_randomness_give_the_same_ids() -> None:
    assert Uuid7Maker(HeldClock(), Random(5))() == Uuid7Maker(HeldClock(), Random(5))()
