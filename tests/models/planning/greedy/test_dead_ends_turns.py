"""Which presses heat a part one after another, and that the first sequence looks ahead at them.

The facts are common practice, no source: printed twill 149 °C and 20 s, raised foam 15 s, glitter film 10 s,
and that nothing is laid on a piece that is not down.
"""

from dataclasses import replace

import pytest

from models.geometry import Box
from models.job.job import Job, Material, Pressure
from models.plan.plan import Plan
from models.planning.greedy.dead_ends import Prospects
from models.planning.problem.cliques import cliques
from models.planning.problem.patterns import ways_to_hit
from models.planning.problem.press_tasks import tasks_of
from models.planning.problem.side import side_work
from models.planning.search.solve_job import plan_hits
from tests.random_jobs import random_job
from tests.rule_checker import broken_rules
from tests.sample_jobs import BACK, FOAM, GLITTER, TWILL, box_piece, job_of

BASE = replace(TWILL, key="base", least_s=15, takes_on_top=frozenset({"any"}))
MIDDLE, ON_IT = Box(200, 300, 120, 80), Box(220, 310, 40, 40)
BESIDE_THAT, AT_THE_EDGE = Box(270, 310, 40, 40), Box(10, 10, 40, 40)
TIGHT = [6, 34, 58, 73, 75, 76, 77, 80, 97, 131, 141, 166, 169, 174]
"""Seeds of jobs with a base that bears hardly more than what has to be pressed on it."""


def over_the_base(*pieces: tuple[str, Material, Box]) -> set[frozenset[str]]:
    """The sets of presses in turn over the first piece, a second press marked as such."""
    materials = {material.key: material for _, material, _ in pieces}
    job = job_of([box_piece(*piece) for piece in pieces], tuple(materials.values()))
    work = side_work(job, BACK)
    names = [f"{work.pieces[t.part].id}{' again' if t.is_second else ''}" for t in tasks_of(work)]
    turns = Prospects(work, ways_to_hit(work)).turns_over[0]
    return {frozenset(names[task] for task in tasks) for tasks in turns}


def first_plan_of(job: Job) -> Plan:
    return plan_hits(job, stop=lambda: True)


def test_what_lies_on_a_base_is_pressed_after_it() -> None:
    assert over_the_base(("base", BASE, MIDDLE), ("lamp", FOAM, ON_IT)) == {frozenset({"base", "lamp"})}


def test_two_pieces_on_a_base_can_share_a_hit_over_it() -> None:
    over = over_the_base(("base", BASE, MIDDLE), ("lamp", TWILL, ON_IT), ("wave", TWILL, BESIDE_THAT))
    assert over == {frozenset({"base", "lamp"}), frozenset({"base", "wave"})}


def test_two_pieces_on_a_base_whose_pressures_differ_take_turns_over_it() -> None:
    firm, light = (replace(TWILL, key=p, pressures=(p,)) for p in (Pressure.FIRM, Pressure.LIGHT))
    over = over_the_base(("base", BASE, MIDDLE), ("lamp", firm, ON_IT), ("wave", light, BESIDE_THAT))
    assert over == {frozenset({"base", "lamp", "wave"})}


def test_the_second_press_of_a_base_can_be_the_press_of_what_lies_on_it() -> None:
    twice = replace(BASE, finish_s=5)
    over = over_the_base(("base", twice, MIDDLE), ("lamp", TWILL, ON_IT))
    assert over == {frozenset({"base", "base again"}), frozenset({"base", "lamp"})}


def test_what_lies_far_off_is_pressed_without_heating_the_base() -> None:
    over = over_the_base(("base", BASE, Box(420, 560, 100, 100)), ("gleam", GLITTER, AT_THE_EDGE))
    assert over == set()


@pytest.mark.parametrize("seed", TIGHT)
def test_a_tight_job_has_a_sound_plan_before_any_search(seed: int) -> None:
    job = random_job(seed, pieces=40, sides=3)
    assert broken_rules(job, first_plan_of(job)) == []


def test_each_two_that_stand_apart_are_in_a_clique() -> None:
    """A triangle 0-1-2 with 3 hanging on 2, and 4 by itself."""
    apart = [0b00110, 0b00101, 0b01011, 0b00100, 0]
    assert set(cliques(apart, 0b11111)) == {0b00111, 0b01100}
