"""What has the smaller rank goes first; what has the greater one fills the time it rests."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.rotation.problem.dispatch_rule import RULES
from models.rotation.problem.shop import Garment, Press, Setting, Shop, Visit
from models.rotation.rules.rule_search import best_rule
from models.rotation.simulation.simulator import Act, course_by
from tests.random_shops import shops
from tests.rotation_checker import faults_of

PRESS = Press("press", heating_s_per_degree=6, cooling_s_per_degree=20, temperature_c=149)
HIT = Visit(Setting("press", 149), lay_s=20, dwell_s=15, off_s=5, rest_s=60, finish_s=10)
HOTTER = replace(HIT, setting=Setting("press", 155))


def pressed(shop: Shop, rule) -> list[str]:
    steps = course_by(shop, rule).steps
    return [shop.garments[step.garment].code for step in steps if step.act == Act.PRESS]


@settings(max_examples=100, deadline=None)
@given(shop=shops(), rule=st.sampled_from(RULES), ranks=st.lists(st.integers(0, 2), min_size=8, max_size=8))
def test_a_course_with_ranks_can_be_worked_in_its_shop(shop, rule, ranks):
    garments = (replace(garment, rank=rank) for garment, rank in zip(shop.garments, ranks, strict=False))
    shop = replace(shop, garments=tuple(garments))
    assert faults_of(shop, course_by(shop, rule)) == []


@pytest.mark.parametrize("rule", RULES, ids=str)
@pytest.mark.parametrize("hit", [HIT, HOTTER], ids=["same heat", "hotter"])
def test_the_smaller_rank_goes_to_the_press_first_by_every_rule(rule, hit):
    others = tuple(Garment(f"later {n}", (HIT, HIT), rank=1) for n in range(8))
    first = tuple(Garment(f"first {n}", (hit,)) for n in range(3))
    assert pressed(Shop((PRESS,), (*others, *first)), rule)[:3] == ["first 0", "first 1", "first 2"]


@pytest.mark.parametrize("rule", RULES, ids=str)
def test_while_the_smaller_rank_rests_the_greater_one_is_pressed(rule):
    others = tuple(Garment(f"later {n}", (HIT,), rank=1) for n in range(4))
    order = pressed(Shop((PRESS,), (Garment("first", (HIT, HIT)), *others)), rule)
    assert order[0] == "first"
    assert "first" in order[2:4]


@pytest.mark.parametrize("rule", RULES, ids=str)
def test_a_check_that_lets_the_smaller_rank_go_on_comes_before_another_hit(rule):
    rested = Garment("first", (HIT, HIT), is_off=True)
    steps = course_by(Shop((PRESS,), (rested, Garment("later", (HIT,), rank=1))), rule).steps
    assert (steps[0].act, steps[0].garment) == (Act.FINISH, 0)


def test_the_rule_is_chosen_by_the_ends_of_all_ranks():
    """A rule that ends all as soon, but the smaller rank later, is not taken."""
    first = tuple(Garment(f"first {n}", (HIT, HOTTER)) for n in range(2))
    later = tuple(Garment(f"later {n}", (HIT,), rank=1) for n in range(6))
    shop = Shop((PRESS,), (*first, *later))
    best = best_rule(shop, effort=3_000)

    def summed(rule) -> float:
        ends = {0: 0.0, 1: 0.0}
        for step in course_by(shop, rule).steps:
            if step.act != Act.CHANGE:
                ends[shop.garments[step.garment].rank] = step.end_s
        return sum(ends.values())

    assert summed(best.rule) <= min(summed(rule) for rule in RULES)
