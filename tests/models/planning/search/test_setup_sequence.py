"""Hits at several settings: the fewest changes of temperature, and of side, that so many hits take."""

from dataclasses import replace
from itertools import pairwise, permutations, product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.errors import NoSoundSequenceError
from models.geometry import Box
from models.job.job import Job
from models.plan.plan import Plan
from models.planning.search.setup_sequence import Step, courses, settings_of, side_changes
from models.planning.search.solve_job import plan_hits
from tests.plain_model import fewest_changes
from tests.random_jobs import in_two_heats, random_job
from tests.rule_checker import broken_rules
from tests.sample_jobs import BACK, FABRIC, FOAM, GLITTER, PRESS, TWILL, box_piece, job_of

PATIENCE_S = 60
FRONT = replace(BACK, name="front")
COOL = replace(GLITTER, key="cool-film", label="Cool film", set_c=132, lowest_c=130, hottest_c=138)
HOT = replace(TWILL, key="hot-twill", label="Hot twill", set_c=155, lowest_c=150, hottest_c=160)


def shop_job(*pieces, **changes) -> Job:
    return job_of(pieces, (TWILL, FOAM, COOL, HOT), sides=(BACK, FRONT), **changes)


def heats(plan: Plan) -> list[float]:
    return [hit.temperature_c for hit in plan.hits]


def changed(steps) -> int:
    return sum(before != after for before, after in pairwise(steps))


def test_what_is_pressed_cool_on_both_sides_comes_in_a_row():
    """Each side alone could as well begin with the other heat."""
    dots = [
        box_piece(f"{material.key}-{side}", material, Box(100, y, 60, 60), side=side)
        for side in ("back", "front")
        for y, material in ((100, COOL), (300, HOT))
    ]
    job = shop_job(*dots)
    plan = plan_hits(job)

    assert broken_rules(job, plan) == []
    assert len(plan.hits) == 4
    assert (plan.totals.temperature_changes, plan.totals.side_changes) == (1, 2)
    assert plan.proved[:3] == ("hits", "temperature_changes", "side_changes")


def test_a_press_is_set_anew_once_though_the_pieces_stand_in_another_order():
    """The sleeve of hits that comes first to mind goes from hot to cool and back."""
    order = (HOT, COOL, HOT, COOL)
    dots = [box_piece(f"dot-{n}", m, Box(20, 160 * n, 120, 120)) for n, m in enumerate(order)]
    plan = plan_hits(shop_job(*dots, press=replace(PRESS, platen_width_mm=150, platen_height_mm=150)))

    assert plan.totals.temperature_changes == 1
    assert sorted(heats(plan)) in (heats(plan), heats(plan)[::-1])


def test_a_hit_more_is_never_taken_for_fewer_changes():
    """Both films fit under one platen; only two settings press them, and that is said."""
    plan = plan_hits(
        shop_job(box_piece("a", COOL, Box(100, 100, 60, 60)), box_piece("b", HOT, Box(200, 100, 60, 60)))
    )

    assert (plan.totals.hits, plan.totals.temperature_changes) == (2, 1)
    assert plan.proved[-1] == "reheats"


@pytest.mark.parametrize("seed", range(10))
def test_the_fewest_changes_of_a_job_in_two_heats_are_those_of_the_plain_model(seed):
    job = in_two_heats(random_job(seed, pieces=6, sides=2))
    try:
        plan = plan_hits(job)
    except NoSoundSequenceError:
        return
    assert broken_rules(job, plan) == []
    assert plan.proved[:3] == ("hits", "temperature_changes", "side_changes")
    totals = (plan.totals.temperature_changes, plan.totals.side_changes)
    assert totals == fewest_changes(job, len(plan.hits), PATIENCE_S)


def test_one_setting_will_do_where_one_temperature_suits_all():
    job = job_of(
        [box_piece("a", TWILL, Box(0, 0, 60, 60)), box_piece("b", FOAM, Box(90, 0, 60, 60))], (TWILL, FOAM)
    )
    assert settings_of(job) == [Step(0, 145)]


def test_a_temperature_that_the_fabric_does_not_bear_is_no_setting():
    pieces = [box_piece("a", COOL, Box(0, 0, 60, 60)), box_piece("b", HOT, Box(90, 0, 60, 60))]
    job = shop_job(*pieces, fabric=replace(FABRIC, hottest_c=140))
    assert settings_of(job) == [Step(0, 130)]


@given(walks=st.integers(0, 2), changes=st.integers(0, 2))
def test_the_courses_of_a_cost_are_all_rows_of_settings_that_cost_so_much(walks, changes):
    steps = [Step(0, 140), Step(0, 150), Step(1, 140)]
    rows = (row for n in range(1, walks + changes + 2) for row in product(steps, repeat=n))
    wanted = {row for row in rows if costs(row) == (walks, changes) and changed(row) == len(row) - 1}
    assert set(courses(steps, walks, changes)) == wanted


def costs(row) -> tuple[int, int]:
    """Walks from press to press; changes of what a press was last set to."""
    own = [[step.temperature_c for step in row if step.press == press] for press in (0, 1)]
    return changed([step.press for step in row]), sum(map(changed, own))


@given(st.lists(st.sets(st.integers(0, 2), min_size=1), min_size=1, max_size=4))
def test_the_changes_of_side_along_a_course_are_those_of_the_best_order_in_each_step(visits):
    """Every order of the sides within each step is tried."""
    here = [[side for side, steps in enumerate(visits) if step in steps] for step in range(3)]
    orders = product(*map(permutations, here))
    assert side_changes(visits) == min(changed(sum(order, ())) for order in orders)
