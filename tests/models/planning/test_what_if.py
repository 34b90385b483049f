"""A job changed for a try: what the change does to the plan, and what no job file could say."""

from dataclasses import replace

import pytest

from models.geometry import Box
from models.job.job import Job
from models.planning.planner import plan_hits
from models.planning.what_if import (
    TryRefusedError,
    changes,
    compared,
    with_material,
    with_piece_moved,
    with_platen,
)
from tests.rule_checker import broken_rules
from tests.sample_jobs import BACK, FOAM, TWILL, box_piece, job_of

PLAIN = replace(BACK, zones=())


def two_dots() -> Job:
    """450 mm from edge to edge: more than the platen's 400."""
    dots = [box_piece("sun", FOAM, Box(50, 300, 50, 50)), box_piece("moon", FOAM, Box(450, 300, 50, 50))]
    return job_of(dots, (FOAM, TWILL), sides=(PLAIN,))


def hits_of(job: Job) -> int:
    plan = plan_hits(job)
    assert broken_rules(job, plan) == []
    return len(plan.hits)


def test_a_wider_platen_saves_a_hit() -> None:
    assert hits_of(two_dots()) == 2
    assert hits_of(with_platen(two_dots(), 0, wider_mm=50)) == 1


def test_pieces_moved_together_share_a_hit() -> None:
    assert hits_of(with_piece_moved(two_dots(), "moon", -50, 0)) == 1


def test_a_longer_dwell_takes_what_two_hits_took() -> None:
    short = replace(FOAM, longest_s=14)
    job = replace(two_dots(), materials=(short, TWILL), pieces=two_dots().pieces[:1])
    assert hits_of(job) == 2
    assert hits_of(with_material(job, FOAM.key, "longest_s", 1)) == 1


def test_the_job_itself_stays_as_it_was() -> None:
    job = two_dots()
    with_platen(job, 0, wider_mm=50)
    with_piece_moved(job, "moon", -50, 0)
    assert job == two_dots()


@pytest.mark.parametrize(
    ("number", "more", "told"),
    [
        ("lowest_c", 10, "stand in this order"),
        ("set_c", 30, "stand in this order"),
        ("hottest_c", -30, "stand in this order"),
        ("least_s", -15, "seconds go from 1"),
        ("longest_s", 100, "seconds go from 1 to the 60 s"),
    ],
)
def test_numbers_that_no_job_file_could_say_are_refused(number: str, more: int, told: str) -> None:
    with pytest.raises(TryRefusedError, match=told):
        with_material(two_dots(), FOAM.key, number, more)


def test_a_platen_too_small_for_anything_is_refused() -> None:
    with pytest.raises(TryRefusedError, match="at least 20 mm"):
        with_platen(two_dots(), 0, higher_mm=-490)


def test_a_piece_pushed_more_than_half_off_its_side_is_refused() -> None:
    assert with_piece_moved(two_dots(), "sun", -75, 0).piece("sun").box.x == -25
    with pytest.raises(TryRefusedError, match="more than half off back"):
        with_piece_moved(two_dots(), "sun", -80, 0)


def test_the_changes_are_told_with_what_was_there_before() -> None:
    job = two_dots()
    wider = with_platen(job, 0, wider_mm=50)
    tried = with_piece_moved(with_material(wider, FOAM.key, "least_s", 1), "sun", 5, 0)
    assert changes(job, tried) == (
        "platen 450 × 500 mm, was 400 × 500",
        "Raised foam film: 145 to 160 °C, set 149, 16 to 25 s, was 145 to 160 °C, set 149, 15 to 25 s",
        "sun +5 mm across, +0 mm down",
    )
    assert changes(job, job) == ()


def test_the_totals_stand_side_by_side() -> None:
    before = plan_hits(two_dots())
    rows = compared(before, plan_hits(with_platen(two_dots(), 0, wider_mm=50)))
    assert (rows[0].name, rows[0].before, rows[0].after) == ("hits", 2, 1)
    assert [row.after for row in compared(before, None)] == [None] * len(rows)
