"""Whether a batch goes through one setting and then the next, or each garment whole: computed."""

from dataclasses import replace

import pytest

from models.rotation.problem.shop import Garment, Press, Setting, Shop, Visit
from models.rotation.rules.compare_policies import passes
from models.rotation.rules.rule_search import best_rule
from models.rotation.rules.whole_garments import course_whole
from tests.random_shops import batch

HIT = Visit(Setting("press", 149), lay_s=20, dwell_s=15, off_s=5, rest_s=60, finish_s=10)
HOTTER = replace(HIT, setting=Setting("press", 160))
EFFORT = 2_000


def vests(many: int, per_degree_s: tuple[float, float]) -> Shop:
    """Each wants its first hit at 149 °C and its second at 160 °C."""
    press = Press("press", *per_degree_s, temperature_c=149)
    return Shop((press,), tuple(Garment(f"g{n}", (HIT, HOTTER)) for n in range(many)))


def test_where_changing_the_heat_is_slow_all_garments_go_through_one_setting_first():
    told = passes(vests(8, (6, 20)), effort=EFFORT)
    assert told.is_by_setting
    assert told.settings == (HIT.setting, HOTTER.setting)
    assert told.by_setting_s < told.whole_s


def test_where_changing_costs_nothing_setting_by_setting_is_not_the_only_way():
    told = passes(vests(8, (0, 0)), effort=EFFORT)
    assert told.in_turn_s <= told.by_setting_s
    assert told.best.course.end_s < told.whole_s


def test_a_single_garment_is_pressed_whole_in_any_way():
    told = passes(vests(1, (6, 20)), effort=EFFORT)
    assert told.best.course.end_s == told.by_setting_s == told.in_turn_s


@pytest.mark.parametrize("seed", range(4))
def test_the_best_of_all_is_never_later_than_any_of_the_ways(seed):
    shop = batch(seed, fewest=4, most=8)
    told = passes(shop, effort=EFFORT)
    assert told.best.course.end_s <= told.whole_s == course_whole(shop).end_s
    assert told.best.course.end_s <= min(told.by_setting_s, told.in_turn_s)


def test_what_was_preferred_is_never_left_for_a_later_end():
    shop = batch(5, fewest=4, most=8)
    found = best_rule(shop, effort=10 * EFFORT)
    assert passes(shop, [found.rule], EFFORT).best.course.end_s <= found.course.end_s


def test_the_settings_of_two_presses_are_told_as_they_are_come_to():
    sleeve = replace(HIT, setting=Setting("small", 150))
    shop = vests(2, (6, 20))
    presses = (*shop.presses, Press("small", 6, 20, 150))
    told = passes(Shop(presses, (*shop.garments, Garment("sleeve", (sleeve,)))), effort=EFFORT)
    assert set(told.settings) == {HIT.setting, HOTTER.setting, sleeve.setting}
    assert len(told.settings) == 3
