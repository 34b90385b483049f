"""When a batch will be done, from drawn hand times."""

import random
from dataclasses import replace

import pytest

from models.rotation.problem.dispatch_rule import RULES
from models.rotation.problem.shop import Garment, Press, Setting, Shop, Visit
from models.rotation.times.forecast import Forecast, forecast
from models.rotation.times.pace import Hand, HandTime, Pace, pace_of
from tests.random_shops import batch

HIT = Visit(Setting("press", 149), lay_s=20, dwell_s=15, off_s=5, rest_s=60, finish_s=10)
SHOP = batch(6, fewest=8, most=12)


def measured(n: int, ratio: float = 1.0, hits: int = 0) -> Pace:
    """So many times of each kind, around this multiple of what was expected."""
    times = [HandTime(hand, 10, 10 * ratio * by) for hand in Hand for by in (0.9, 1.0, 1.1) * n]
    return pace_of(times, hits=hits)


def told(shop: Shop, pace: Pace, seed: int = 1) -> Forecast:
    (only,) = forecast(shop, pace, RULES[0], random.Random(seed)).values()
    return only


def width(one: Forecast) -> float:
    return one.high_s - one.low_s


def test_the_range_lies_around_the_median():
    one = told(SHOP, measured(1))
    assert one.low_s < one.median_s < one.high_s


def test_the_same_seed_tells_the_same():
    assert told(SHOP, measured(2), seed=5) == told(SHOP, measured(2), seed=5)
    assert told(SHOP, measured(2), seed=5) != told(SHOP, measured(2), seed=6)


def test_the_fewer_hand_times_were_measured_the_wider_it_is():
    nothing, few, many = (told(SHOP, measured(n, hits=1_000)) for n in (0, 2, 40))
    assert width(many) < width(few) < width(nothing)
    assert width(many) < 0.5 * width(nothing)


def test_slow_hands_put_it_off_and_quick_ones_bring_it_nearer():
    quick, expected, slow = (told(SHOP, measured(20, ratio)).median_s for ratio in (0.6, 1.0, 1.6))
    assert quick < expected < slow


def test_hits_that_were_pressed_again_put_it_off():
    pace = measured(20)
    assert (
        told(SHOP, replace(pace, again=60, hits=200)).median_s > told(SHOP, replace(pace, hits=200)).median_s
    )


def test_each_batch_has_its_own_end():
    first = [Garment(f"a{n}", (HIT, HIT), batch="A") for n in range(4)]
    last = [Garment("b", (HIT,), ready_s=5_000, batch="B")]
    ends = forecast(Shop((Press("press"),), (*first, *last)), measured(9), RULES[0], random.Random(1))
    assert ends["A"].high_s < 1_500
    assert ends["B"].low_s > 5_000


def test_with_no_hands_in_it_nothing_is_in_doubt():
    bare = Shop((Press("press"),), (Garment("a", (replace(HIT, lay_s=0, off_s=0, finish_s=0),)),))
    assert told(bare, replace(measured(0), hits=100_000)) == Forecast(75, 75, 75)


@pytest.mark.parametrize("seed", range(3))
def test_a_garment_that_waits_for_its_check_alone_is_done_after_it(seed):
    shop = Shop((Press("press"),), (Garment("a", (replace(HIT, lay_s=0),), ready_s=30, is_off=True),))
    one = told(shop, replace(measured(50), hits=100_000), seed)
    assert 30 + 8 < one.low_s < one.high_s < 30 + 12
