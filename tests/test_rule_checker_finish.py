"""The judge judged, on rule 8: every piece is laid once, comes down and is finished."""

from dataclasses import replace

from models.geometry import Box, Outline, Polygon
from models.job.job import Job, Piece
from models.plan.plan import Totals
from tests.rule_checker import broken_rules
from tests.sample_jobs import (
    TWILL,
)
from tests.small_plans import (
    NEXT_TO_NOTHING,
    PLAIN_BACK,
    a_hit,
    a_job,
    a_plan,
    assert_only_caught,
    banner_hits,
    lay_badge,
    long_banner,
    twill_alone,
)


def test_a_piece_that_is_never_laid_is_caught() -> None:
    assert_only_caught(twill_alone(), a_plan(lower_bound=0), "rule 8", "badge", "never laid")


def test_a_piece_laid_twice_is_caught() -> None:
    hits = (lay_badge(n=1), lay_badge(n=2, count=(), touch_again=("badge",)))
    assert_only_caught(twill_alone(), a_plan(*hits, reheats=1), "hit 2", "rule 8", "badge", "second time")


def test_a_piece_laid_for_a_hit_beside_it_is_caught() -> None:
    hits = (lay_badge(platen=NEXT_TO_NOTHING, count=()), a_hit(2, count=("badge",)))
    assert_only_caught(twill_alone(), a_plan(*hits), "hit 1", "rule 8", "badge", "does not touch")


def test_a_piece_laid_for_a_hit_on_another_side_is_caught() -> None:
    job = replace(twill_alone(), sides=(PLAIN_BACK, replace(PLAIN_BACK, name="front")))
    hits = (lay_badge(side="front", count=()), a_hit(2, count=("badge",)))
    plan = a_plan(*hits, totals=Totals(2, 0, 1, 40, 0))
    assert_only_caught(job, plan, "hit 1", "rule 8", "badge", "does not touch")


def test_a_piece_short_of_its_seconds_is_caught() -> None:
    assert_only_caught(twill_alone(), a_plan(lay_badge(dwell_s=19)), "rule 8", "badge", "not down")


def test_an_outline_that_crosses_itself_is_caught() -> None:
    bow = Polygon(((200, 200), (300, 260), (300, 200), (200, 260)))
    job = replace(twill_alone(), pieces=(Piece("badge", "badge", "back", TWILL.key, Outline((bow,))),))
    assert_only_caught(job, a_plan(lay_badge()), "rule 8", "badge", "crosses itself")


FINISHING = replace(TWILL, finish_s=5)


def twice_pressed() -> Job:
    return a_job(("badge", FINISHING, Box(200, 200, 100, 60)))


def test_a_second_press_under_a_cover_finishes_a_piece() -> None:
    hits = (lay_badge(), a_hit(2, dwell_s=5, count=("badge",), cover=True))
    assert broken_rules(twice_pressed(), a_plan(*hits)) == []


def test_a_piece_without_its_second_press_is_caught() -> None:
    assert_only_caught(twice_pressed(), a_plan(lay_badge()), "rule 8", "badge", "second press")


def test_a_second_press_that_is_too_short_is_caught() -> None:
    hits = (lay_badge(), a_hit(2, dwell_s=4))
    assert_only_caught(twice_pressed(), a_plan(*hits), "rule 8", "badge", "second press")


def test_both_parts_of_a_long_piece_want_their_second_press() -> None:
    job = replace(long_banner(), materials=(FINISHING,))
    first, second = banner_hits()
    third = replace(first, n=3, lay=(), cover=True)
    fourth = replace(second, n=4, cover=True)
    assert_only_caught(job, a_plan(first, second, third), "rule 8", "banner", "second press")
    assert broken_rules(job, a_plan(first, second, third, fourth)) == []
