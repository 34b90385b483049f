"""The judge judged, on rules 4 to 6: heat, half-pressed pieces, seconds."""

from dataclasses import replace

from models.geometry import Box
from models.job.job import Peel, Pressure
from models.plan.plan import Totals
from tests.rule_checker import broken_rules
from tests.sample_jobs import (
    GLITTER,
    PRESS,
    TWILL,
)
from tests.small_plans import (
    a_hit,
    a_job,
    a_plan,
    assert_caught,
    assert_only_caught,
    banner_hits,
    lay_badge,
    long_banner,
    twill_alone,
)


def test_a_hit_hotter_than_the_fabric_bears_is_caught() -> None:
    scorching = replace(TWILL, hottest_c=170)
    job = a_job(("badge", scorching, Box(200, 200, 100, 60)))
    assert_only_caught(job, a_plan(lay_badge(temperature_c=165)), "hit 1", "rule 4", "quilted polyamide")


def test_a_hit_hotter_than_a_touched_piece_bears_is_caught() -> None:
    hot = replace(TWILL, key="patch", lowest_c=156, hottest_c=160)
    job = a_job(("badge", TWILL, Box(200, 200, 100, 60)), ("patch", hot, Box(200, 300, 100, 60)))
    first = lay_badge()
    second = a_hit(2, temperature_c=158, lay=("patch",), count=("patch",), touch_again=("badge",))
    plan = a_plan(first, second, totals=Totals(2, 1, 0, 40, 1))
    assert_only_caught(job, plan, "hit 2", "rule 4", "badge")


def test_a_setting_that_the_press_has_not_is_caught() -> None:
    cool_press = replace(PRESS, hottest_c=140)
    assert_only_caught(twill_alone(press=cool_press), a_plan(lay_badge()), "hit 1", "rule 4", "cannot be set")


def test_a_piece_half_under_the_platen_is_caught() -> None:
    across = lay_badge(platen=Box(250, 70, 400, 500), count=())
    assert_caught(twill_alone(), a_plan(across), "hit 1", "rule 5", "badge")


def test_a_piece_touched_at_a_setting_it_does_not_take_is_caught() -> None:
    light = lay_badge(pressure=Pressure.LIGHT, count=())
    assert_caught(twill_alone(), a_plan(light), "hit 1", "rule 5", "badge")


def test_a_piece_of_two_parts_may_be_touched_in_part() -> None:
    assert broken_rules(long_banner(), a_plan(*banner_hits())) == []


def test_a_piece_of_which_one_part_is_never_pressed_is_caught() -> None:
    assert_only_caught(long_banner(), a_plan(banner_hits()[0]), "rule 8", "banner", "not down")


def test_a_turned_piece_of_just_the_platens_size_is_one_part() -> None:
    a_hair_wider = Box(80, 70, 400 + 1e-10, 500)
    job = a_job(("banner", TWILL, a_hair_wider))
    assert broken_rules(job, a_plan(a_hit(lay=("banner",), count=("banner",)))) == []


def test_a_closing_shorter_than_the_press_can_is_caught() -> None:
    hits = (lay_badge(dwell_s=18), a_hit(2, dwell_s=2, count=("badge",)))
    assert_only_caught(twill_alone(), a_plan(*hits), "hit 2", "rule 6", "shorter")


def test_a_dwell_longer_than_a_touched_piece_bears_is_caught() -> None:
    assert_only_caught(twill_alone(), a_plan(lay_badge(dwell_s=26)), "hit 1", "rule 6", "too long", "badge")


def test_more_seconds_in_all_than_a_piece_bears_are_caught() -> None:
    sensitive = replace(TWILL, total_s=39)
    job = a_job(("badge", sensitive, Box(200, 200, 100, 60)))
    hits = (lay_badge(), a_hit(2, touch_again=("badge",)))
    assert_only_caught(job, a_plan(*hits, reheats=1), "hit 2", "rule 6", "40 s in all", "badge")


def test_seconds_on_the_bare_fabric_before_a_piece_is_laid_do_not_heat_it() -> None:
    short = replace(GLITTER, total_s=10, carrier=False, peel=Peel.NONE)
    job = a_job(("badge", TWILL, Box(200, 200, 100, 60)), ("wave", short, Box(200, 300, 100, 30)))
    hits = (lay_badge(), a_hit(2, dwell_s=10, lay=("wave",), count=("wave",), touch_again=("badge",)))
    assert broken_rules(job, a_plan(*hits, reheats=1)) == []


def test_a_piece_laid_for_a_hit_after_which_it_does_not_hold_is_caught() -> None:
    slow = replace(TWILL, first_s=12)
    first, second = lay_badge(dwell_s=11), lay_badge(n=2, lay=(), dwell_s=9)
    plan = a_plan(first, second, totals=Totals(2, 0, 0, 20, 0))
    job = a_job(("badge", slow, Box(200, 200, 100, 60)))
    assert_only_caught(job, plan, "hit 1", "rule 6", "badge", "12 s")
