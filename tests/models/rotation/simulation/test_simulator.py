"""How a floor goes on by a rule: whatever the shop, the course can be worked in it."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.errors import CalculationError
from models.rotation.problem.dispatch_rule import RULES, Change, First, Rule, To
from models.rotation.problem.shop import Garment, Press, Setting, Shop, Span, Visit
from models.rotation.simulation.simulator import Act, course_by
from tests.random_shops import shops
from tests.rotation_checker import faults_of

PRESS = Press("press", heating_s_per_degree=6, cooling_s_per_degree=20, temperature_c=149)
HERE, HOTTER = Setting("press", 149), Setting("press", 150)
HIT = Visit(HERE, lay_s=20, dwell_s=15, off_s=5, rest_s=60, finish_s=10)


def steps_of(shop, rule=RULES[0]):
    """What is begun when, on which garment."""
    return [(step.act, step.start_s, step.garment) for step in course_by(shop, rule).steps]


@settings(max_examples=150, deadline=None)
@given(shop=shops(), rule=st.sampled_from(RULES), mixes=st.lists(st.integers(0, 99), max_size=3))
def test_every_course_can_be_worked_in_its_shop(shop, rule, mixes):
    assert faults_of(shop, course_by(shop, replace(rule, mixes=tuple(mixes)))) == []


@pytest.mark.parametrize("rule", RULES, ids=str)
def test_two_garments_take_turns_by_every_rule(rule):
    shop = Shop((PRESS,), (Garment("a", (HIT, HIT)), Garment("b", (HIT,))))
    course = course_by(shop, rule)
    assert faults_of(shop, course) == []
    assert course.end_s < 3 * HIT.whole_s


def test_while_one_garment_rests_the_next_is_pressed():
    shop = Shop((PRESS,), (Garment("a", (HIT,)), Garment("b", (HIT,))))
    assert steps_of(shop) == [
        (Act.PRESS, 0, 0),
        (Act.PRESS, 40, 1),
        (Act.FINISH, 100, 0),
        (Act.FINISH, 140, 1),
    ]


def test_one_person_finishes_during_the_dwell_only_what_is_through_before_the_press_opens():
    """The dwell leaves 15 s: a check of 15 s fits in, one of 16 s waits until the garment is off."""
    for finish_s, begins_s in ((15, 20), (16, 40)):
        resting = Garment("r", (replace(HIT, finish_s=finish_s),), is_off=True)
        shop = Shop((PRESS,), (Garment("a", (HIT,)), resting))
        assert (Act.FINISH, begins_s, 1) in steps_of(shop)


CHECKS = tuple(
    Garment(f"{finish_s} s", (replace(HIT, finish_s=finish_s), *[HIT] * ahead), is_off=True)
    for finish_s, ahead in ((6, 0), (14, 0), (8, 3))
)


def test_in_a_dwell_the_longest_check_is_made_that_is_through_before_the_press_opens():
    """However much the other garments have ahead of them."""
    shop = Shop((replace(PRESS, free_s=20),), CHECKS, taken=(Span(15, 20),))
    assert steps_of(shop)[0] == (Act.FINISH, 0, 1)


def test_with_nobody_bound_the_check_with_most_ahead_of_it_is_made():
    assert steps_of(Shop((replace(PRESS, free_s=20),), CHECKS))[0] == (Act.FINISH, 0, 2)


def test_a_rule_that_finishes_first_peels_what_has_rested_before_it_fills_the_press():
    shop = Shop((PRESS,), (Garment("a", (HIT,)), Garment("b", (HIT,), is_off=True)))
    assert steps_of(shop, Rule(finish_first=True))[:2] == [(Act.FINISH, 0, 1), (Act.PRESS, 10, 0)]
    assert steps_of(shop, Rule(finish_first=False))[0] == (Act.PRESS, 0, 0)


def test_two_people_peel_and_lay_at_the_same_time():
    shop = Shop((PRESS,), (Garment("a", (HIT,)), Garment("b", (HIT,), is_off=True)), people=2)
    assert steps_of(shop)[:2] == [(Act.PRESS, 0, 0), (Act.FINISH, 0, 1)]


def test_two_presses_are_filled_one_after_the_other_by_one_person():
    presses = (PRESS, replace(PRESS, name="small"))
    sleeve = replace(HIT, setting=Setting("small", 149))
    shop = Shop(presses, (Garment("a", (HIT,)), Garment("b", (sleeve,))))
    assert steps_of(shop)[:2] == [(Act.PRESS, 0, 0), (Act.PRESS, 40, 1)]
    longer = replace(HIT, dwell_s=60)
    shop = Shop(presses, (Garment("a", (longer,)), Garment("b", (sleeve,))))
    assert steps_of(shop)[:2] == [(Act.PRESS, 0, 0), (Act.PRESS, 20, 1)]


@pytest.mark.parametrize("names", [("large", "small"), ("small", "large")])
def test_the_press_with_the_longer_laying_is_filled_first_and_the_other_in_its_dwell(names):
    """The sleeve is laid in the 12 s of the back's dwell, in whatever order the presses stand."""
    back = Visit(Setting("large", 149), lay_s=26, dwell_s=12, off_s=5, finish_s=10)
    sleeve = Visit(Setting("small", 149), lay_s=11, dwell_s=17, off_s=11, finish_s=7)
    presses = tuple(replace(PRESS, name=name) for name in names)
    shop = Shop(presses, (Garment("back", (back,)), Garment("sleeve", (sleeve,))))
    assert steps_of(shop)[:2] == [(Act.PRESS, 0, 0), (Act.PRESS, 26, 1)]


def test_a_press_is_made_ready_for_garments_that_come_to_it_after_another_press():
    """Cooling by 1 degree takes 20 s: it is done while the garment lies on the other press."""
    small = Press("small", 6, 20, 150)
    vest = Garment("vest", (replace(HIT, rest_s=0), replace(HIT, setting=Setting("small", 149))))
    assert steps_of(Shop((PRESS, small), (vest,)))[:3] == [
        (Act.PRESS, 0, 0),
        (Act.CHANGE, 0, -1),
        (Act.FINISH, 40, 0),
    ]
    assert course_by(Shop((PRESS, small), (vest,)), RULES[0]).end_s == 2 * 40 + 2 * 10 + 60


@pytest.mark.parametrize("rule", RULES, ids=str)
def test_presses_never_wait_for_garments_that_wait_for_each_other(rule):
    """Each garment comes back to the press, as it is set, only by way of the other press, set anew."""
    here, there = (Visit(Setting(name, 149), 20, 15, 5) for name in ("press", "small"))
    crossing = [
        Garment("a", (replace(here, setting=HOTTER), there)),
        Garment("b", (replace(there, setting=Setting("small", 150)), here)),
    ]
    shop = Shop((PRESS, Press("small", 6, 20, 149)), tuple(crossing))
    assert faults_of(shop, course_by(shop, rule)) == []


def test_the_garment_with_most_ahead_goes_first_or_the_one_that_is_nearest_done():
    shop = Shop((PRESS,), (Garment("short", (HIT,)), Garment("long", (HIT, HIT))))
    assert steps_of(shop, Rule(First.LONGEST_AHEAD))[0] == (Act.PRESS, 0, 1)
    assert steps_of(shop, Rule(First.NEAREST_DONE))[0] == (Act.PRESS, 0, 0)


RESTS = Garment("rests", (HIT, replace(HIT, finish_s=0)), ready_s=30, is_off=True)
WAITS = Garment("waits", (replace(HIT, setting=HOTTER),))


@pytest.mark.parametrize(
    ("change", "begins"),
    [
        (Change.AT_ONCE, (Act.CHANGE, 0, -1)),  # 6 s to the hotter one, where a garment waits
        (Change.WHEN_QUICKER, (Act.CHANGE, 0, -1)),  # 6 s there and 20 s back are less than 30 + 10 s
        (Change.WHEN_EXHAUSTED, (Act.FINISH, 30, 0)),  # one still comes to this setting
    ],
)
def test_the_press_is_set_anew_at_once_or_when_quicker_or_when_nothing_comes_any_more(change, begins):
    assert steps_of(Shop((PRESS,), (RESTS, WAITS)), Rule(change=change))[0] == begins


def test_it_is_not_set_anew_where_changing_there_and_back_takes_longer_than_waiting():
    sooner = replace(RESTS, ready_s=10)
    assert steps_of(Shop((PRESS,), (sooner, WAITS)), Rule(change=Change.WHEN_QUICKER))[0] == (
        Act.FINISH,
        10,
        0,
    )


def test_it_is_set_to_where_the_hit_begins_first_or_where_most_wait_or_where_they_have_come_least_far():
    near, far = Setting("press", 150), Setting("press", 155)
    middle = Setting("press", 152)
    garments = (
        Garment("near", (replace(HIT, setting=near),), done=2),
        Garment("far 1", (replace(HIT, setting=far),), done=1),
        Garment("far 2", (replace(HIT, setting=far),), done=1),
        Garment("middle", (replace(HIT, setting=middle),)),
    )
    shop = Shop((PRESS,), garments)
    firsts = {to: course_by(shop, Rule(to=to)).steps[0].setting for to in To}
    assert firsts == {To.SOONEST: near, To.MOST: far, To.EARLIEST_STEP: middle}


def test_cooling_down_takes_its_own_time():
    shop = Shop((PRESS,), (Garment("a", (replace(HIT, setting=HOTTER),)), Garment("b", (HIT,))))
    course = course_by(shop, Rule(change=Change.WHEN_EXHAUSTED))
    assert course.changes == 1
    assert course.changes_s == 6
    course = course_by(replace(shop, presses=(replace(PRESS, temperature_c=150),)), RULES[0])
    assert course.changes_s == 20


def test_a_press_of_which_nobody_knows_the_heat_takes_its_first_setting_without_delay():
    shop = Shop((replace(PRESS, temperature_c=None),), (Garment("a", (HIT,)),))
    assert steps_of(shop)[0] == (Act.PRESS, 0, 0)


def test_what_lifts_is_pressed_again_without_being_expected():
    shop = Shop((PRESS,), (Garment("a", (HIT, HIT), repeats=frozenset({0})),))
    visits = [(step.act, step.visit) for step in course_by(shop, RULES[0]).steps]
    assert visits == [(act, n) for n in (0, 0, 1) for act in (Act.PRESS, Act.FINISH)]


def test_hands_that_are_bound_lay_nothing():
    shop = Shop((PRESS,), (Garment("a", (HIT,)),), taken=(Span(0, 12),))
    assert steps_of(shop)[0] == (Act.PRESS, 12, 0)


def test_mixed_claims_change_the_order_of_garments_and_the_same_numbers_always_the_same_way():
    shop = Shop((PRESS,), tuple(Garment(f"g{n}", (HIT,)) for n in range(12)))
    orders = [
        tuple(g for act, _, g in steps_of(shop, Rule(mixes=mixes)) if act == Act.PRESS)
        for mixes in ((), (8,), (8,), (8, 17))
    ]
    assert orders[0] == tuple(range(12))
    assert orders[1] == orders[2]
    assert len(set(orders)) == 3


def test_nothing_to_do_ends_at_once():
    assert course_by(Shop((PRESS,), ()), RULES[0]).end_s == 0.0


def test_a_garment_for_a_press_that_is_not_there_is_refused():
    shop = Shop((PRESS,), (Garment("a", (replace(HIT, setting=Setting("other", 149)),)),))
    with pytest.raises(CalculationError, match="garment a goes to a press that is not there"):
        course_by(shop, RULES[0])
