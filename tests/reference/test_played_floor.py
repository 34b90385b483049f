"""A floor played through with hands that take what they take."""

import random
from dataclasses import replace

import pytest

from models.rotation.problem.bounds import least_s
from models.rotation.problem.dispatch_rule import RULES
from models.rotation.problem.shop import Garment, Press, Setting, Shop, Visit
from models.rotation.simulation.simulator import course_by
from models.rotation.times.pace import Hand
from tests.random_shops import batch
from tests.reference.played_floor import PlayedFloor

PRESS = Press("press", heating_s_per_degree=6, cooling_s_per_degree=20, temperature_c=149)
HIT = Visit(Setting("press", 149), lay_s=20, dwell_s=15, off_s=5, rest_s=60, finish_s=10)


def as_expected(hand: Hand, expected_s: float) -> float:
    return expected_s


def small_batch(seed: int, presses: int = 1, people: int = 1) -> Shop:
    return batch(seed, 4, 8, presses, people)


@pytest.mark.parametrize("seed", range(12))
def test_with_hands_as_expected_it_ends_like_its_course(seed):
    """A rule that is followed from step to step does what its course foretold."""
    shop = small_batch(seed)
    assert PlayedFloor(shop, as_expected, effort=1).play().end_s == pytest.approx(
        course_by(shop, RULES[0]).end_s
    )


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize(("presses", "people"), [(1, 1), (2, 1), (1, 2), (2, 2), (2, 3)])
def test_with_hands_as_expected_no_press_waits_to_be_opened(seed, presses, people):
    shop = small_batch(seed, presses, people)
    played = PlayedFloor(shop, as_expected, effort=1).play()
    assert played.late_s == pytest.approx(0)
    assert played.end_s >= least_s(shop) - 1e-6


@pytest.mark.parametrize("seed", range(10))
@pytest.mark.parametrize(("presses", "people"), [(1, 1), (2, 2)])
def test_however_long_hands_take_every_hit_is_done_and_no_press_is_taken_twice(seed, presses, people):
    shop, dice = small_batch(seed, presses, people), random.Random(seed)
    floor = PlayedFloor(shop, lambda _, s: s * dice.choice([0.2, 1, 5]), effort=1)
    played = floor.play()
    assert floor.hits_done == sum(len(garment.visits) for garment in shop.garments)
    assert floor.left == 0
    assert 0 <= played.idle_share(presses) < 1


def test_a_press_is_opened_late_where_nobody_is_free():
    """The check of the rested one takes 25 s instead of 10, while the press wants to be opened after 15."""
    shop = Shop((PRESS,), (Garment("a", (HIT,)), Garment("r", (replace(HIT, rest_s=0),), is_off=True)))
    slow = PlayedFloor(shop, lambda hand, s: 25.0 if hand == Hand.FINISH else s, effort=1)
    assert slow.play().late_s == 10


def test_the_time_of_presses_is_told_apart():
    hotter = replace(HIT, setting=Setting("press", 150))
    played = PlayedFloor(Shop((PRESS,), (Garment("a", (HIT, hotter)),)), as_expected, effort=1).play()
    assert (played.on_press_s, played.changes_s, played.end_s) == (80, 6, 220)
    assert played.idle_share() == pytest.approx(1 - 86 / 220)


def test_what_lifts_is_pressed_again():
    lifts = iter([True, False, True, False])
    floor = PlayedFloor(
        Shop((PRESS,), (Garment("a", (HIT, HIT)),)), as_expected, lambda: next(lifts), effort=1
    )
    assert floor.play().end_s == 4 * HIT.whole_s
    assert (floor.hits_done, floor.again) == (4, 2)


def test_it_stops_where_it_is_told_to_and_goes_on_from_there():
    shop = small_batch(3)
    floor = PlayedFloor(shop, as_expected, effort=1)
    floor.play(until=lambda floor: floor.hits_done >= 3)
    assert floor.hits_done == 3
    assert floor.play() == PlayedFloor(shop, as_expected, effort=1).play()


@pytest.mark.parametrize("seed", range(6))
def test_what_is_known_in_the_middle_leaves_no_hit_out(seed):
    floor = PlayedFloor(small_batch(seed), as_expected, effort=1)
    for done in range(1, 6):
        floor.play(until=lambda floor, done=done: floor.hits_done >= done)
        now = floor.shop_now()
        all_hits = sum(len(garment.visits) for garment in floor.shop.garments)
        begun = sum(busy.press == "" for busy in floor.busy)  # at their check, and expected to go on
        assert sum(len(garment.visits) for garment in now.garments) == all_hits - floor.hits_done - begun
        assert all(garment.ready_s < 1_000 for garment in now.garments)


def test_the_hands_that_were_seen_are_told_with_what_was_expected():
    floor = PlayedFloor(Shop((PRESS,), (Garment("a", (HIT,)),)), lambda _, s: 2 * s, effort=1)
    floor.play()
    seen = [(time.hand, time.expected_s, time.took_s) for time in floor.seen]
    assert seen == [(Hand.LAY, 20, 40), (Hand.OFF, 5, 10), (Hand.FINISH, 10, 20)]


def test_two_people_are_sooner_done_than_one():
    shop = Shop((PRESS, replace(PRESS, name="small")), small_batch(1).garments)
    garments = [
        replace(garment, visits=(replace(HIT, setting=Setting(("press", "small")[n % 2], 149)),))
        for n, garment in enumerate(shop.garments)
    ]
    shop = replace(shop, garments=tuple(garments))
    alone, together = (
        PlayedFloor(replace(shop, people=many), as_expected, effort=1).play() for many in (1, 2)
    )
    assert together.end_s < alone.end_s
