"""How long one press must stand open for one person."""

from dataclasses import replace

import pytest

from models.errors import CalculationError
from models.rotation.problem.bounds import least_s
from models.rotation.problem.dispatch_rule import RULES
from models.rotation.problem.shop import Garment, Press, Setting, Shop, Visit
from models.rotation.rules.rule_search import best_rule
from models.rotation.simulation.simulator import course_by
from tests.random_shops import batch, tiny_shop
from tests.reference.least_gaps import least_with_gaps_s
from tests.reference.shortest_rotation import earliest_end

PRESS = Press("press", heating_s_per_degree=6, cooling_s_per_degree=20, temperature_c=149)
HERE, HOTTER = Setting("press", 149), Setting("press", 150)
HIT = Visit(HERE, lay_s=20, dwell_s=15, off_s=5, finish_s=10)


def least(shop: Shop) -> float:
    return least_with_gaps_s(shop, best_rule(shop, effort=2_000).course.end_s)


def vests(many: int, *visits: Visit) -> Shop:
    return Shop((PRESS,), tuple(Garment(f"vest {n}", visits) for n in range(many)))


def test_checks_that_fit_into_the_dwells_keep_the_press_open_only_after_the_last_hit():
    assert least(vests(5, HIT)) == 5 * 40 + 10


def test_checks_that_are_longer_than_the_dwell_all_keep_the_press_open():
    assert least(vests(5, replace(HIT, finish_s=16))) == 5 * 40 + 5 * 16


def test_a_dwell_holds_as_many_checks_as_go_into_it():
    """Three checks of 5 s for each garment, and the dwell of 15 s before the next visit's 4 s."""
    short = replace(HIT, finish_s=5)
    narrow = replace(HIT, dwell_s=4, finish_s=5)
    assert least(vests(6, short, narrow)) == 6 * (40 + 29) + 5


def test_what_is_pressed_again_at_the_same_heat_has_to_be_checked_before_the_press_is_set_anew():
    """Checks of 16 s go into no dwell. Ten of the first lie before the second hit; the change of 6 s helps
    only the second's, of which the last falls into the rest of the third hit's end."""
    long = replace(HIT, finish_s=16)
    shop = vests(10, long, replace(long, finish_s=0), replace(HIT, setting=HOTTER, finish_s=0))
    assert least(shop) == 10 * 3 * 40 + 10 * 16 + 6


def test_a_longer_way_through_the_settings_is_taken_where_it_holds_more_checks():
    """Changing once costs 6 s and leaves the second hit's checks of 19 s outside its dwells of 13 s."""
    first = replace(HIT, dwell_s=21, finish_s=0)
    shop = vests(12, first, replace(HIT, setting=HOTTER, dwell_s=13, finish_s=19))
    once_s = 12 * (46 + 38) + 6 + 12 * 19
    assert least_s(shop) < least(shop) < once_s


@pytest.mark.parametrize("seed", range(40))
def test_it_is_never_above_the_proved_end(seed):
    shop = tiny_shop(seed)
    if len(shop.presses) > 1 or shop.people > 1:
        shop = Shop(shop.presses[:1], tuple(_at_one_press(garment) for garment in shop.garments))
    known = best_rule(shop, effort=500).course
    exact = earliest_end(shop, known=known)
    assert exact.is_proved
    assert least_s(shop) <= least_with_gaps_s(shop, known.end_s) <= exact.end_s


def _at_one_press(garment: Garment) -> Garment:
    first = "press 0"
    visits = (replace(v, setting=Setting(first, v.setting.temperature_c)) for v in garment.visits)
    return replace(garment, visits=tuple(visits))


def test_it_is_never_above_what_was_reached():
    shop = batch(26)
    reached_s = course_by(shop, RULES[0]).end_s
    assert least_with_gaps_s(shop, reached_s) <= reached_s


def test_nothing_to_press_needs_no_time():
    assert least_with_gaps_s(Shop((PRESS,), ()), 0.0) == 0.0


@pytest.mark.parametrize(
    "shop",
    [
        replace(vests(2, HIT), people=2),
        replace(vests(2, HIT), presses=(PRESS, replace(PRESS, name="small"))),
        Shop((PRESS,), (Garment("a", (HIT,), is_off=True),)),
        replace(vests(2, HIT), presses=(Press("press"),)),
    ],
    ids=["two people", "two presses", "begun", "changes take no time"],
)
def test_a_floor_that_it_does_not_know_is_refused(shop):
    with pytest.raises(CalculationError, match="gaps are counted"):
        least_with_gaps_s(shop, 1_000.0)
