"""Who is bound from when to when in a course."""

import math

from models.rotation.problem.shop import Shop, Span
from models.rotation.simulation.people import People


def people(many: int, *taken: tuple[float, float]) -> People:
    return People(Shop((), (), many, tuple(Span(*span) for span in taken)))


def test_a_person_who_is_bound_later_is_free_until_then():
    assert people(1, (30, 40)).free_until_s(0) == 30
    assert people(1, (0, 40)).free_until_s(0) == 0
    assert people(1).free_until_s(0) == math.inf


def test_one_of_two_is_free_until_both_are_bound():
    assert people(2, (0, 40)).free_until_s(0) == math.inf
    assert people(2, (0, 40), (30, 35)).free_until_s(0) == 30
    assert people(2, (0, 30), (30, 35)).free_until_s(0) == math.inf


def test_all_spans_are_bound_or_none():
    one = people(1, (30, 40))
    assert not one.take((0, 10), (35, 45))
    assert one.take((0, 10), (40, 45))
    assert not one.take((5, 6))


def test_what_is_over_when_the_next_thing_begins_binds_nobody():
    one = people(1, (0, 10))
    assert one.take((10, 20))
    one.pass_to(20)
    assert one.ends_s() == []
