"""The rule by which a batch is done soonest: tried, not guessed."""

from dataclasses import replace

import pytest
from hypothesis import given, settings

from models.rotation.problem.dispatch_rule import RULES, Change, First, Rule
from models.rotation.problem.shop import Garment, Press, Setting, Shop, Visit
from models.rotation.rules.rule_search import Tried, best_rule
from models.rotation.rules.whole_garments import course_whole
from models.rotation.simulation.simulator import Act, Course, Step, course_by
from tests.random_shops import batch, shops, tiny_shop
from tests.rotation_checker import faults_of

ENOUGH = 3_000
"""Effort for all plain rules of a small shop, and some that are mixed."""


@settings(max_examples=20, deadline=None)
@given(shop=shops())
def test_no_plain_rule_is_sooner_than_the_best(shop):
    best = best_rule(shop, effort=ENOUGH)
    assert best.course.end_s <= min(course_by(shop, rule).end_s for rule in RULES)
    assert faults_of(shop, best.course) == []


@settings(max_examples=15, deadline=None)
@given(shop=shops())
def test_the_same_shop_always_gives_the_same_rule(shop):
    assert best_rule(shop, effort=2_000) == best_rule(shop, effort=2_000)


def test_a_mixed_order_is_kept_where_it_is_sooner_than_every_plain_rule():
    mixed = [seed for seed in range(30) if best_rule(tiny_shop(seed), effort=2_000).rule.mixes]
    assert mixed
    for seed in mixed:
        shop = tiny_shop(seed)
        plain_s = min(course_by(shop, rule).end_s for rule in RULES)
        assert best_rule(shop, effort=2_000).course.end_s < plain_s


@pytest.mark.parametrize("seed", range(4))
def test_more_effort_is_never_later_done(seed):
    """As soon as there is enough for all plain rules: the mixes that follow are the same."""
    shop = batch(seed, fewest=4, most=8, presses=2)
    ends_s = [best_rule(shop, effort=effort).course.end_s for effort in (4_000, 6_000, 9_000)]
    assert ends_s == sorted(ends_s, reverse=True)


def test_where_the_preferred_rule_alone_is_known_it_is_bettered():
    """A batch where a mixed order is sooner than every plain rule."""
    shop = batch(1_001, fewest=3, most=12, presses=2)
    plain = best_rule(shop, rules=RULES[:1], effort=1)
    better = best_rule(shop, [plain.rule], effort=2_000, rules=())
    assert better.course.end_s < plain.course.end_s
    assert replace(better.rule, mixes=()) == plain.rule


def test_a_preferred_rule_is_kept_where_no_other_is_sooner():
    shop = Shop((Press("p"),), (Garment("a", (Visit(Setting("p", 149), 1, 2, 3, 4, 5),)),))
    preferred = Rule(First.NEAREST_DONE, finish_first=True, mixes=(7,))
    assert best_rule(shop, [preferred]).rule == preferred
    assert best_rule(shop).rule == RULES[0]


def test_where_there_is_time_for_one_rule_alone_it_is_the_preferred_one():
    assert best_rule(batch(4), [RULES[11]], effort=1).rule == RULES[11]


def test_only_the_rules_that_are_asked_for_are_tried():
    at_once = [rule for rule in RULES if rule.change == Change.AT_ONCE]
    tried = best_rule(batch(5), rules=at_once, effort=ENOUGH)
    assert tried.rule.change == Change.AT_ONCE


def test_of_two_rules_as_soon_the_one_with_fewer_changes_of_heat_costs_less():
    step = Step(Act.CHANGE, 0, 6, -1, -1, Setting("p", 150))
    calm, busy = (Tried(RULES[0], Course(steps, 90.0)) for steps in ((step,), (step, step)))
    assert calm.cost < busy.cost < Tried(RULES[0], Course((), 91.0)).cost


@pytest.mark.parametrize("seed", range(8))
def test_a_batch_worked_by_the_best_rule_is_done_sooner_than_garment_by_garment(seed):
    shop = batch(seed, fewest=6, most=12)
    best, whole = best_rule(shop, effort=ENOUGH).course, course_whole(shop)
    assert faults_of(shop, whole) == []
    assert best.end_s <= whole.end_s
