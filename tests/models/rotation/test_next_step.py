"""What a person is told to do now."""

from dataclasses import replace

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from models.rotation.next_step import next_step
from models.rotation.problem.dispatch_rule import RULES
from models.rotation.problem.shop import Garment, Press, Setting, Shop, Visit
from models.rotation.simulation.simulator import Act, course_by
from tests.random_shops import batch, shops

PRESS = Press("press", heating_s_per_degree=6, cooling_s_per_degree=20, temperature_c=149)
HIT = Visit(Setting("press", 149), lay_s=20, dwell_s=15, off_s=5, rest_s=60, finish_s=10)


READY = Garment("ready", (HIT,))
RESTED = Garment("rested", (HIT,), is_off=True)


def with_press(shop: Shop) -> Shop:
    """Hands are free, and the press of the hits above stands beside the other ones."""
    return replace(shop, presses=(*shop.presses, PRESS), taken=())


@settings(max_examples=50, deadline=None)
@given(shop=shops())
def test_where_a_garment_has_rested_something_is_begun_at_once(shop):
    shop = replace(with_press(shop), garments=(*shop.garments, RESTED))
    assert next_step(shop).step.start_s == 0


@settings(max_examples=50, deadline=None)
@given(shop=shops())
def test_where_a_press_is_free_at_the_heat_that_a_garment_needs_something_is_begun_at_once(shop):
    shop = replace(with_press(shop), garments=(*shop.garments, READY))
    assert next_step(shop).step.start_s == 0


@settings(max_examples=30, deadline=None)
@given(shop=shops(), rule=st.sampled_from(RULES))
def test_a_floor_too_large_to_compare_rules_on_follows_the_preferred_one_from_its_first_step(shop, rule):
    """Whatever is told then is what the whole course by that rule begins with."""
    assume(any(garment.visits for garment in shop.garments))
    told = next_step(shop, [rule], effort=1)
    whole = [step for step in course_by(shop, rule).steps if step.act != Act.CHANGE]
    assert told.rule == rule
    assert told.step == next(iter(whole), None)


def test_the_first_hit_is_begun_at_once_and_the_next_one_waits_for_the_press():
    told = next_step(batch(1))
    assert (told.step.act, told.step.start_s) == (Act.PRESS, 0)
    busy = Shop((replace(PRESS, free_s=12),), (Garment("a", (HIT,)),))
    assert (next_step(busy).step.act, next_step(busy).step.start_s) == (Act.PRESS, 12)


def test_a_press_that_is_to_be_set_anew_is_told_with_the_step_that_waits_for_it():
    hotter = replace(HIT, setting=Setting("press", 160))
    told = next_step(Shop((PRESS,), (Garment("a", (hotter,)),)))
    assert told.changes == (hotter.setting,)
    assert (told.step.act, told.step.start_s) == (Act.PRESS, 66)


def test_a_change_of_heat_that_comes_later_is_not_told_now():
    hotter = replace(HIT, setting=Setting("press", 160))
    assert next_step(Shop((PRESS,), (Garment("a", (HIT, hotter)),))).changes == ()


def test_where_all_is_done_there_is_no_next_step():
    told = next_step(Shop((PRESS,), (Garment("a", ()),)))
    assert (told.step, told.changes) == (None, ())


def test_the_rule_that_was_followed_so_far_is_followed_on():
    """A floor like this is too large for another to be tried."""
    shop = batch(3, fewest=300, most=300)
    assert next_step(shop, [RULES[7]]).rule == RULES[7]
