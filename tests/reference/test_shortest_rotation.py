"""The proved earliest end, beside another model of the same shop."""

from dataclasses import replace

import pytest

from models.errors import CalculationError
from models.rotation.problem.bounds import least_s
from models.rotation.problem.shop import Garment, Press, Setting, Shop, Span, Visit
from models.rotation.rules.rule_search import best_rule
from tests.random_shops import batch, tiny_shop
from tests.reference.shortest_rotation import earliest_end
from tests.timed_shop import distinct, earliest_end_by_seconds

PRESS = Press("press", heating_s_per_degree=1, cooling_s_per_degree=3, temperature_c=149)
HIT = Visit(Setting("press", 149), lay_s=2, dwell_s=3, off_s=1, rest_s=6, finish_s=2)


@pytest.mark.parametrize("seed", range(12))
def test_a_model_that_counts_by_the_second_finds_the_same_end(seed):
    shop = tiny_shop(seed, longest_s=4, rests_s=(0, 6), garments=3)
    course = best_rule(shop, effort=500).course

    end = earliest_end(shop, known=course)

    assert end.is_proved
    assert end.end_s == earliest_end_by_seconds(shop, horizon=int(course.end_s) + 1)
    assert least_s(shop) <= end.end_s <= course.end_s


@pytest.mark.parametrize("people", [1, 2])
def test_garments_on_their_way_bound_hands_and_late_presses_give_the_same_end_too(people):
    hotter = replace(HIT, setting=Setting("press", 151))
    garments = (
        Garment("off", (HIT, hotter), ready_s=3, is_off=True),
        Garment("late", (hotter,), ready_s=7),
        Garment("new", (HIT,)),
    )
    shop = Shop((replace(PRESS, free_s=4),), garments, people, (Span(2, 6),))
    assert earliest_end(shop).end_s == earliest_end_by_seconds(shop, horizon=60)


@pytest.mark.parametrize(("people", "n"), [(1, 2), (1, 3), (1, 4), (2, 3), (2, 4)])
def test_keeping_like_garments_in_their_order_loses_nothing(people, n):
    hotter = replace(HIT, setting=Setting("press", 150), rest_s=0)
    shop = Shop((PRESS,), tuple(Garment(f"g{i}", (HIT, hotter)) for i in range(n)), people)
    in_order, free = earliest_end(shop), earliest_end(distinct(shop))
    assert in_order.is_proved
    assert free.is_proved
    assert in_order.end_s == free.end_s


def test_parts_of_a_second_are_rounded_up_and_kept_with_finer_ticks():
    shop = Shop((PRESS,), (Garment("a", (replace(HIT, dwell_s=3.4),)),))
    assert earliest_end(shop).end_s == 15
    assert earliest_end(shop, ticks_per_s=10).end_s == pytest.approx(14.4)


def test_a_shop_in_which_nothing_is_left_ends_at_once():
    assert earliest_end(Shop((PRESS,), (Garment("a", ()),))).end_s == 0


def test_where_no_time_is_left_to_search_nothing_is_claimed():
    with pytest.raises(CalculationError, match="no way to work the shop was found within 0 s"):
        earliest_end(batch(2), seconds=0.0)
