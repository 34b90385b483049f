"""A job changed for a try: what the change does to the plan, and what no job file could say."""

from dataclasses import replace

import pytest

from models.geometry import Box
from models.job.job import Job, Zone, ZoneKind
from models.planning.search.solve_job import plan_hits
from models.planning.what_if import (
    TryRefusedError,
    changes,
    compared,
    with_material,
    with_piece_moved,
    with_platen,
)
from tests.rule_checker import broken_rules
from tests.sample_jobs import BACK, FOAM, PRESS, TWILL, box_piece, job_of

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


def test_a_piece_wants_no_fewer_seconds_than_it_begins_with() -> None:
    job = replace(two_dots(), materials=(replace(FOAM, first_s=12), TWILL))
    with pytest.raises(TryRefusedError, match="Raised foam film begins with 12 s"):
        with_material(job, FOAM.key, "least_s", -4)


def in_window(lowest_c: float, set_c: float, hottest_c: float, **changes: object) -> Job:
    film = replace(FOAM, lowest_c=lowest_c, set_c=set_c, hottest_c=hottest_c)
    return replace(two_dots(), materials=(film, TWILL), **changes)


def test_a_window_above_what_the_fabric_bears_is_refused_in_one_line() -> None:
    job = in_window(160, 165, 175)
    with pytest.raises(TryRefusedError) as refused:
        with_material(job, FOAM.key, "lowest_c", 1)
    assert str(refused.value) == (
        "Raised foam film would want 161 °C at least, and quilted polyamide on these presses bears 160 °C; "
        "take less"
    )


def test_a_window_above_what_the_hottest_press_reaches_is_refused_in_one_line() -> None:
    cool, cooler = replace(PRESS, name="wide", hottest_c=150), replace(PRESS, name="small", hottest_c=140)
    job = in_window(150, 155, 165, press=cooler, more_presses=(cool,))
    with pytest.raises(TryRefusedError, match=r"151 °C at least, and .* bears 150 °C"):
        with_material(job, FOAM.key, "lowest_c", 1)


def test_a_window_below_what_any_press_is_set_to_is_refused_in_one_line() -> None:
    job = in_window(80, 90, 100)
    with pytest.raises(TryRefusedError) as refused:
        with_material(job, FOAM.key, "hottest_c", -1)
    assert str(refused.value) == (
        "Raised foam film would bear 99 °C, and no press is set below 100 °C; take more"
    )


def test_a_window_that_only_reaches_into_what_the_fabric_bears_may_be_tried() -> None:
    """The fabric bears 160 °C: set to 165, the film is pressed at what both bear."""
    tried = with_material(in_window(150, 164, 175), FOAM.key, "set_c", 1)
    plan = plan_hits(tried)
    assert broken_rules(tried, plan) == []
    assert {hit.temperature_c for hit in plan.hits} == {160}


WIDE = replace(PRESS, name="wide")
SMALL = replace(PRESS, name="small", platen_width_mm=100.0, platen_height_mm=100.0)


def two_dots_on_two_presses() -> Job:
    return replace(two_dots(), press=WIDE, more_presses=(SMALL,))


def test_of_several_presses_one_gets_another_platen() -> None:
    tried = with_platen(two_dots_on_two_presses(), 1, wider_mm=350)
    assert [press.platen_width_mm for press in tried.presses] == [400, 450]
    assert changes(two_dots_on_two_presses(), tried) == ("platen small 450 × 100 mm, was 100 × 100",)


def test_a_wider_small_press_saves_a_hit() -> None:
    assert hits_of(two_dots_on_two_presses()) == 2
    tried = with_platen(two_dots_on_two_presses(), 1, wider_mm=350)
    assert {hit.press for hit in plan_hits(tried).hits} == {"small"}
    assert hits_of(tried) == 1


def test_a_try_tells_the_walks_that_it_saves() -> None:
    """Between the rivets just the small press has room; the ring takes the wide one."""
    rivets = tuple(Zone(ZoneKind.KEEP_OUT, Box(x, 600, 10, 10), "rivet") for x in (90, 200))
    ring, dot = (
        box_piece("ring", FOAM, Box(100, 100, 300, 300)),
        box_piece("dot", FOAM, Box(130, 590, 50, 50)),
    )
    side = replace(PLAIN, zones=rivets)
    job = job_of((ring, dot), (FOAM,), press=WIDE, more_presses=(SMALL,), sides=(side,))
    before, after = plan_hits(job), plan_hits(with_piece_moved(job, "dot", 300, 0))
    walks = next(row for row in compared(before, after) if row.name == "walks between presses")
    assert (walks.before, walks.after) == (1, 0)


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
        "sun 5 mm right",
    )
    assert changes(job, job) == ()


def test_the_totals_stand_side_by_side() -> None:
    before = plan_hits(two_dots())
    rows = compared(before, plan_hits(with_platen(two_dots(), 0, wider_mm=50)))
    assert (rows[0].name, rows[0].before, rows[0].after) == ("hits", 2, 1)
    assert [row.after for row in compared(before, None)] == [None] * len(rows)
