"""Each garment pressed whole before the next."""

from dataclasses import replace

import pytest
from hypothesis import given, settings

from models.rotation.problem.shop import Garment, Press, Setting, Shop, Visit
from models.rotation.rules.whole_garments import course_whole
from models.rotation.simulation.simulator import Act
from tests.random_shops import shops
from tests.rotation_checker import faults_of

PRESS = Press("press", heating_s_per_degree=6, cooling_s_per_degree=20, temperature_c=149)
HIT = Visit(Setting("press", 149), lay_s=20, dwell_s=15, off_s=5, rest_s=60, finish_s=10)
HOTTER = replace(HIT, setting=Setting("press", 150))


@settings(max_examples=80, deadline=None)
@given(shop=shops())
def test_it_can_be_worked_by_one_person(shop):
    garments = tuple(replace(garment, repeats=frozenset()) for garment in shop.garments)
    shop = replace(shop, garments=garments, people=1, taken=())
    assert faults_of(shop, course_whole(shop)) == []


def test_every_rest_is_waited_for():
    shop = Shop((PRESS,), (Garment("a", (HIT, HIT)), Garment("b", (HIT,))))
    assert course_whole(shop).end_s == 3 * HIT.whole_s


def test_the_press_changes_its_heat_while_the_garment_rests():
    shop = Shop((PRESS,), (Garment("a", (HIT, HOTTER)), Garment("b", (HIT,))))
    course = course_whole(shop)
    assert [step.end_s - step.start_s for step in course.steps if step.act == Act.CHANGE] == [6, 20]
    assert course.end_s == 3 * HIT.whole_s


@pytest.mark.parametrize("is_off", [True, False])
def test_a_garment_on_its_way_goes_on_from_where_it_is(is_off):
    shop = Shop((PRESS,), (Garment("a", (HIT,), ready_s=30, is_off=is_off),))
    assert course_whole(shop).end_s == 30 + (HIT.finish_s if is_off else HIT.whole_s)
