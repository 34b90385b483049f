"""The judge of courses sees each kind of fault that it is there for."""

from dataclasses import replace

import pytest

from models.rotation.problem.dispatch_rule import RULES
from models.rotation.problem.shop import Garment, Press, Setting, Shop, Span, Visit
from models.rotation.simulation.simulator import Act, Course, Step, course_by
from tests.rotation_checker import faults_of

PRESS = Press("press", heating_s_per_degree=6, cooling_s_per_degree=20, temperature_c=149)
FIRST = Visit(Setting("press", 149), lay_s=20, dwell_s=15, off_s=5, rest_s=60, finish_s=10)
HOTTER = replace(FIRST, setting=Setting("press", 150))
SHOP = Shop((PRESS,), (Garment("a", (FIRST, HOTTER)), Garment("b", (FIRST,))))
COURSE = course_by(SHOP, RULES[0])


def moved(act: Act, seconds: float, garment: int, visit: int = 0) -> Course:
    """The course with one step moved in time."""

    def maybe(step: Step) -> Step:
        if (step.act, step.garment, step.visit) != (act, garment, visit):
            return step
        return replace(step, start_s=step.start_s + seconds, end_s=step.end_s + seconds)

    return replace(COURSE, steps=tuple(map(maybe, COURSE.steps)))


def without(act: Act) -> Course:
    return replace(COURSE, steps=tuple(step for step in COURSE.steps if step.act != act))


def test_the_course_itself_is_without_fault():
    assert faults_of(SHOP, COURSE) == []
    assert {step.act for step in COURSE.steps} == set(Act)


@pytest.mark.parametrize(
    ("course", "fault"),
    [
        (moved(Act.PRESS, -5, garment=1), "press is taken until 40"),
        (moved(Act.FINISH, -11, garment=1), "b: finish 0 at 139.0, before 140"),
        (moved(Act.PRESS, -1, garment=0), "press begins in the past"),
        (moved(Act.PRESS, -30, garment=0, visit=1), "a: press 1 at"),
        (without(Act.CHANGE), "press stands at 149 for a hit at 150"),
        (without(Act.FINISH), "a goes"),
        (replace(COURSE, end_s=COURSE.end_s + 1), "it is said to end at"),
    ],
)
def test_a_course_that_cannot_be_worked_is_found_out(course, fault):
    assert any(told.startswith(fault) for told in faults_of(SHOP, course))


def test_a_person_cannot_peel_and_open_at_the_same_time():
    """The first garment's check would last until after the second one's press opens at 75 s."""
    course = moved(Act.FINISH, 75 - 100, garment=0)
    assert any(told.startswith("2 people are at work at 75") for told in faults_of(SHOP, course))
    assert not any("people" in told for told in faults_of(replace(SHOP, people=2), course))


def test_bound_hands_and_early_garments_and_presses_are_seen():
    late = replace(SHOP, taken=(Span(0, 9),))
    assert any(told.startswith("2 people are at work at 0") for told in faults_of(late, COURSE))
    late = replace(SHOP, garments=(replace(SHOP.garments[0], ready_s=9), SHOP.garments[1]))
    assert "a: press 0 at 0.0, before 9" in faults_of(late, COURSE)
    late = replace(SHOP, presses=(replace(PRESS, free_s=9),))
    assert "press is taken until 9, but press begins at 0.0" in faults_of(late, COURSE)


def test_a_change_of_heat_that_is_too_short_and_a_press_that_is_not_there_are_seen():
    slower = replace(SHOP, presses=(replace(PRESS, heating_s_per_degree=7),))
    assert "press takes 7 to 150, not 6.0" in faults_of(slower, COURSE)
    assert "there is no press press" in faults_of(replace(SHOP, presses=()), COURSE)
