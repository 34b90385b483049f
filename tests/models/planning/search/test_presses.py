"""Several presses: the fewest hits over all of them, then the fewest walks from one to the other."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.errors import NoSoundSequenceError
from models.geometry import Box
from models.job.job import Job, Side, Zone, ZoneKind
from models.plan.plan import Plan, PlanStatus, plan_from_json, plan_to_json
from models.planning.hits.piece_record import after_hit, untouched
from models.planning.rework.incident import Trouble
from models.planning.rework.plan_rework import plan_extra_hits
from models.planning.search.solve_job import plan_hits
from tests.plain_model import Proof, fewest_hits, fewest_walks
from tests.random_jobs import between_rivets, random_job, with_second_press
from tests.rule_checker import broken_rules
from tests.sample_jobs import BACK, FABRIC, FOAM, PRESS, TWILL, box_piece, job_of

PLAIN = replace(BACK, zones=())
WIDE = replace(PRESS, name="wide")
SMALL = replace(PRESS, name="small", platen_width_mm=100.0, platen_height_mm=100.0)
SNAPS = (
    Zone(ZoneKind.KEEP_OUT, Box(0, 0, 40, 600), "snaps"),
    Zone(ZoneKind.KEEP_OUT, Box(160, 0, 40, 600), "snaps"),
)
SLEEVE = Side("sleeve", 200, 600, SNAPS)
EFFORT = 0.3
PATIENCE_S = 60
MOST_HITS = 8


def shop_job(*pieces, presses=(WIDE, SMALL), sides=(PLAIN, SLEEVE)) -> Job:
    first, *more = presses
    return job_of(pieces, (TWILL, FOAM), press=first, more_presses=tuple(more), sides=sides)


def pressed(plan: Plan) -> list[tuple[str, str]]:
    return [(hit.press, hit.side) for hit in plan.hits]


BADGE = box_piece("badge", TWILL, Box(70, 300, 60, 60), side="sleeve")
RING = box_piece("ring", TWILL, Box(100, 100, 300, 300))


def test_between_the_snaps_of_a_sleeve_only_the_small_platen_has_room() -> None:
    job = shop_job(BADGE, RING)
    plan = plan_hits(job)

    assert sorted(pressed(plan)) == [("small", "sleeve"), ("wide", "back")]
    assert (plan.status, plan.totals.hits, plan.totals.walks) == (PlanStatus.OPTIMAL, 2, 1)
    assert broken_rules(job, plan) == []


def test_a_press_that_is_too_cool_for_a_material_has_no_say_in_its_parts() -> None:
    cool = replace(WIDE, name="cool", hottest_c=120.0)
    job = shop_job(RING, presses=(cool, SMALL))
    plan = plan_hits(job)

    assert pressed(plan) == [("small", "back")] * 9
    assert broken_rules(job, plan) == []


def test_a_material_between_what_two_presses_can_be_set_to_is_told() -> None:
    cool, hot = replace(WIDE, name="cool", hottest_c=120.0), replace(SMALL, lowest_c=180.0)
    fabric = replace(FABRIC, hottest_c=220.0)
    with pytest.raises(NoSoundSequenceError, match="ring wants 145 to 155 °C, to which no press can be set"):
        plan_hits(replace(shop_job(RING, presses=(cool, hot)), fabric=fabric))


def test_without_the_small_press_there_is_no_plan() -> None:
    with pytest.raises(NoSoundSequenceError, match="badge"):
        plan_hits(shop_job(BADGE, RING, presses=(WIDE,)))


def test_fewest_hits_come_first_even_if_that_takes_a_walk() -> None:
    """The small press could do all of it in five hits and no walk."""
    corners = [box_piece(f"dot-{n}", TWILL, Box(100 + 90 * n, 100, 60, 60)) for n in range(4)]
    plan = plan_hits(shop_job(BADGE, *corners))

    assert (plan.totals.hits, plan.totals.walks) == (2, 1)


def test_of_equally_few_hits_those_with_the_fewest_walks_are_taken() -> None:
    dot = box_piece("dot", TWILL, Box(200, 300, 60, 60))
    plan = plan_hits(shop_job(BADGE, dot))

    assert {press for press, _ in pressed(plan)} == {"small"}
    assert plan.totals.walks == 0
    assert plan.proved[:2] == ("hits", "walks")


def test_each_press_keeps_its_own_temperature() -> None:
    """Foam at 155 on the wide press and twill at 149 on the small one: nobody changes a setting."""
    hot = replace(FOAM, set_c=158, lowest_c=157, hottest_c=160)
    ring = box_piece("ring", hot, Box(100, 100, 300, 300))
    job = job_of([BADGE, ring], (TWILL, hot), press=WIDE, more_presses=(SMALL,), sides=(PLAIN, SLEEVE))
    plan = plan_hits(job)

    assert len({hit.temperature_c for hit in plan.hits}) == 2
    assert plan.totals.temperature_changes == 0
    assert broken_rules(job, plan) == []


def test_a_press_that_does_not_get_hot_enough_is_not_used() -> None:
    cool = replace(SMALL, hottest_c=120.0)
    with pytest.raises(NoSoundSequenceError):
        plan_hits(shop_job(BADGE, presses=(WIDE, cool)))


def test_a_piece_is_worked_in_the_grid_of_the_press_that_makes_the_fewest_parts() -> None:
    job = shop_job(RING, presses=(SMALL, WIDE))
    plan = plan_hits(job)

    assert pressed(plan) == [("wide", "back")]
    assert broken_rules(job, plan) == []


def test_a_lifted_badge_is_pressed_again_on_the_press_that_has_room() -> None:
    job = shop_job(BADGE, RING)
    plan = plan_hits(job)
    records = untouched(job)
    for hit in plan.hits:
        records = after_hit(records, job, hit, hit.dwell_s)
    mending = plan_extra_hits(job, records, frozenset(), (), Trouble(lifted_s={"badge": 20}))

    assert [(hit.press, hit.side) for hit in mending.hits] == [("small", "sleeve")]


def test_the_press_stands_in_the_json_only_where_there_are_several() -> None:
    several, one = plan_hits(shop_job(BADGE, RING)), plan_hits(job_of([RING], (TWILL,), sides=(PLAIN,)))

    assert plan_from_json(plan_to_json(several)) == several
    assert {hit["press"] for hit in plan_to_json(several)["hits"]} == {"small", "wide"}
    assert plan_to_json(several)["totals"]["walks"] == 1
    assert "press" not in plan_to_json(one)["hits"][0]
    assert "walks" not in plan_to_json(one)["totals"]


@given(seed=st.integers(0, 2**32 - 1), pieces=st.integers(1, 8), sides=st.integers(1, 2))
@settings(max_examples=25, deadline=None)
def test_plans_for_two_presses_keep_every_rule(seed: int, pieces: int, sides: int) -> None:
    job = with_second_press(random_job(seed, pieces, sides))
    try:
        plan = plan_hits(job, effort=EFFORT)
    except NoSoundSequenceError:
        return
    assert broken_rules(job, plan) == []


@given(seed=st.integers(0, 2**32 - 1), pieces=st.integers(1, 6))
@settings(max_examples=15, deadline=None)
def test_a_second_press_never_takes_a_hit_more(seed: int, pieces: int) -> None:
    job = random_job(seed, pieces)
    try:
        alone = plan_hits(job, effort=EFFORT)
    except NoSoundSequenceError:
        return
    several = with_second_press(job)
    if parts_by_piece(several) == parts_by_piece(job):
        assert len(plan_hits(several, effort=EFFORT).hits) <= len(alone.hits)


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize(("pieces", "sides"), [(5, 1), (6, 2)])
def test_the_hits_and_walks_proved_for_two_presses_are_those_of_the_plain_model(
    seed: int, pieces: int, sides: int
) -> None:
    """A rivet at each side of one piece, so that one press alone will mostly not do."""
    job = with_second_press(between_rivets(random_job(seed, pieces, sides), seed))
    try:
        plan = plan_hits(job)
    except NoSoundSequenceError:
        assert fewest_hits(job, MOST_HITS, PATIENCE_S) is None
        return
    reference = fewest_hits(job, len(plan.hits), PATIENCE_S)

    assert broken_rules(job, plan) == []
    assert reference == Proof(len(plan.hits), is_proved=True)
    assert plan.proved[:2] == ("hits", "walks")
    assert plan.totals.walks == fewest_walks(job, len(plan.hits), PATIENCE_S)


@pytest.mark.parametrize("seed", range(5))
def test_the_hits_and_walks_of_three_presses_are_those_of_the_plain_model(seed: int) -> None:
    """The third has a platen in between, and is never set below 148 °C."""
    two = with_second_press(between_rivets(random_job(seed, pieces=6, sides=2), seed))
    third = replace(two.press, name="third", platen_width_mm=250, platen_height_mm=250, lowest_c=148.0)
    job = replace(two, more_presses=(*two.more_presses, third))
    try:
        plan = plan_hits(job)
    except NoSoundSequenceError:
        assert fewest_hits(job, MOST_HITS, PATIENCE_S) is None
        return

    assert broken_rules(job, plan) == []
    assert fewest_hits(job, len(plan.hits), PATIENCE_S) == Proof(len(plan.hits), is_proved=True)
    assert plan.totals.walks == fewest_walks(job, len(plan.hits), PATIENCE_S)


def test_a_walk_between_two_sides_is_saved_where_both_can_wait_for_the_same_press() -> None:
    """Sleeve and back each have work for either press; first all of the one, then all of the other."""
    pocket = box_piece("pocket", TWILL, Box(100, 100, 300, 300))
    dots = [box_piece("mast", TWILL, Box(70, 300, 60, 60), side="sleeve")]
    wing = replace(PLAIN, name="wing")
    job = shop_job(
        pocket,
        *dots,
        box_piece("bow", TWILL, Box(100, 100, 300, 300), side="wing"),
        sides=(PLAIN, SLEEVE, wing),
    )
    plan = plan_hits(job)

    assert plan.totals.walks == 1
    assert plan.proved[:2] == ("hits", "walks")


def test_progress_tells_the_plan_with_fewer_walks_last() -> None:
    told = list[Plan]()
    job = with_second_press(between_rivets(random_job(16, 5), 16))
    plan = plan_hits(job, progress=told.append)

    assert told[-1] == plan
    assert plan.totals.walks == 1 < told[-2].totals.walks


def parts_by_piece(job: Job) -> list[int]:
    return [len(record.counted_s) for record in untouched(job).values()]
