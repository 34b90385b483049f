"""The judge judged, on rules 7, 9 and 10: metal, cover and pad, where the platen lies."""

from dataclasses import replace

from models.geometry import Box
from models.job.job import Job, Zone, ZoneKind
from models.plan.plan import Hit, Plan
from tests.pressed_garment import Garment
from tests.rule_checker import broken_rules, heated_bare
from tests.sample_jobs import (
    BACK,
    TWILL,
)
from tests.small_plans import (
    a_hit,
    a_job,
    a_plan,
    assert_only_caught,
    banner_hits,
    lay_badge,
    long_banner,
    twill_alone,
)


def test_a_platen_beside_the_zip_breaks_no_rule() -> None:
    beside = replace(BACK, zones=(Zone(ZoneKind.KEEP_OUT, Box(480, 0, 20, 700), "zip"),))
    assert broken_rules(twill_alone(side=beside), a_plan(lay_badge())) == []


def test_a_platen_on_the_zip_is_caught() -> None:
    under = replace(BACK, zones=(Zone(ZoneKind.KEEP_OUT, Box(479, 0, 20, 700), "zip"),))
    assert_only_caught(twill_alone(side=under), a_plan(lay_badge()), "hit 1", "rule 7", "zip")


GUARDED = replace(TWILL, key="guarded-twill", guard=True)


def guarded_and_late() -> Job:
    return a_job(("badge", GUARDED, Box(200, 200, 100, 60)), ("patch", TWILL, Box(200, 300, 100, 60)))


def patch_hit(*, cover: bool) -> Hit:
    return a_hit(2, lay=("patch",), count=("patch",), touch_again=("badge",), cover=cover)


def test_a_guarded_piece_heated_again_lies_under_a_cover() -> None:
    plan = a_plan(lay_badge(), patch_hit(cover=True), reheats=1)
    assert broken_rules(guarded_and_late(), plan) == []


def test_a_guarded_piece_heated_again_without_a_cover_is_caught() -> None:
    plan = a_plan(lay_badge(), patch_hit(cover=False), reheats=1)
    assert_only_caught(guarded_and_late(), plan, "hit 2", "rule 9", "badge", "missing")


def test_a_material_that_wants_a_cover_from_the_first_is_caught_without() -> None:
    job = a_job(("badge", replace(TWILL, cover=True), Box(200, 200, 100, 60)))
    assert_only_caught(job, a_plan(lay_badge()), "hit 1", "rule 9", "badge", "missing")
    assert broken_rules(job, a_plan(lay_badge(cover=True))) == []


UNDER_COVER = replace(TWILL, key="covered-twill", cover=True)


def covered_banner(*, first: bool, second: bool) -> tuple[Job, Plan]:
    """A banner in two parts, and the hits of each with a cover sheet or bare."""
    job = long_banner()
    pieces = tuple(replace(piece, material=UNDER_COVER.key) for piece in job.pieces)
    left, right = banner_hits()
    plan = a_plan(replace(left, cover=first), replace(right, cover=second))
    return replace(job, pieces=pieces, materials=(UNDER_COVER,)), plan


def test_a_second_part_pressed_bare_of_a_material_that_wants_a_cover_is_caught() -> None:
    assert broken_rules(*covered_banner(first=True, second=True)) == []
    assert_only_caught(*covered_banner(first=True, second=False), "hit 2", "rule 9", "banner", "missing")


def test_a_piece_that_wants_a_cover_and_is_not_down_is_not_touched_bare() -> None:
    garment = Garment(covered_banner(first=True, second=True)[0])
    left, right = banner_hits()
    again = replace(left, n=2, lay=(), count=())
    garment.press(left)
    assert heated_bare(garment, again) == ["banner wants a cover until it is down"]
    garment.press(right)
    assert heated_bare(garment, again) == []


def test_a_cover_over_a_piece_that_is_down_and_unguarded_is_caught() -> None:
    job = a_job(("badge", UNDER_COVER, Box(200, 200, 100, 60)), ("patch", TWILL, Box(200, 300, 100, 60)))
    plan = a_plan(lay_badge(cover=True), patch_hit(cover=True), reheats=1)
    assert_only_caught(job, plan, "hit 2", "rule 9", "no piece wants")


def test_a_cover_that_nothing_wants_is_caught() -> None:
    assert_only_caught(twill_alone(), a_plan(lay_badge(cover=True)), "hit 1", "rule 9", "no piece wants")


def test_a_missing_pad_over_a_seam_is_caught() -> None:
    assert_only_caught(twill_alone(side=BACK), a_plan(lay_badge()), "hit 1", "rule 9", "yoke seam")
    assert broken_rules(twill_alone(side=BACK), a_plan(lay_badge(pad=True))) == []


def test_a_pad_where_nothing_is_raised_is_caught() -> None:
    assert_only_caught(twill_alone(), a_plan(lay_badge(pad=True)), "hit 1", "rule 9", "raised")


def test_a_platen_off_whole_mm_is_caught() -> None:
    askew = lay_badge(platen=Box(80.5, 70, 400, 500))
    assert_only_caught(twill_alone(), a_plan(askew), "hit 1", "rule 10", "whole mm")


def test_a_platen_of_another_size_is_caught() -> None:
    turned = lay_badge(platen=Box(80, 70, 500, 400))
    assert_only_caught(twill_alone(), a_plan(turned), "hit 1", "rule 10", "press's platen")


def test_a_platen_may_overhang_the_side() -> None:
    assert broken_rules(twill_alone(), a_plan(lay_badge(platen=Box(-100, -200, 400, 500)))) == []
