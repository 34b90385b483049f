"""The planner: sound by every rule on jobs drawn from a seed, and the facts of the trade in what it plans.

The facts are common practice, no source: printed twill 149 °C and 20 s without a carrier, raised foam 149 °C
and 15 s, peeled cold, glitter film 150 °C and at least 10 s, peeled hot.
"""

from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from models.errors import NoSoundSequenceError
from models.geometry import Box, Outline, Polygon
from models.job.job import Job, Peel, Piece, Pressure, Zone, ZoneKind
from models.plan.plan import PeelStep, Plan, PlanStatus
from models.planning.search.solve_job import plan_hits
from tests.random_jobs import random_job
from tests.rule_checker import broken_rules
from tests.sample_jobs import BACK, FOAM, GLITTER, TWILL, box_piece, crew_vest_job, job_of, ring_of

PLAIN = replace(BACK, zones=())
MIDDLE = Box(200, 300, 100, 60)


def job_on_plain_back(*pieces, **changes) -> Job:
    materials = {material.key: material for _, material, _ in pieces}
    drawn = [box_piece(*piece) for piece in pieces]
    return job_of(drawn, tuple(materials.values()), **{"sides": (PLAIN,), **changes})


def planned_if_possible(job: Job) -> Plan | None:
    try:
        return plan_hits(job)
    except NoSoundSequenceError:
        return None


def hit_that_lays(plan: Plan, piece: str) -> int:
    return next(hit.n for hit in plan.hits if piece in hit.lay)


# ---- sound, whatever the job


@given(seed=st.integers(0, 2**32 - 1), pieces=st.integers(1, 9), sides=st.integers(1, 2))
@settings(max_examples=40, deadline=None)
def test_every_plan_keeps_every_rule(seed, pieces, sides):
    job = random_job(seed, pieces, sides)
    plan = planned_if_possible(job)
    assume(plan is not None)
    assert broken_rules(job, plan) == []


@pytest.mark.parametrize("seed", [2, 3])
def test_a_crowded_job_on_three_sides_keeps_every_rule(seed):
    job = random_job(seed, pieces=26, sides=3)
    assert broken_rules(job, plan_hits(job)) == []


def test_a_piece_in_parts_is_touched_by_the_hit_that_it_is_laid_for_also_where_that_hit_presses_others():
    job = random_job(4766702, pieces=5)
    assert broken_rules(job, plan_hits(job, effort=0.5)) == []


def test_optimal_is_said_only_where_the_bound_is_reached():
    for seed in range(8):
        plan = plan_hits(random_job(seed, pieces=6))
        assert (plan.status == PlanStatus.OPTIMAL) == (plan.lower_bound == len(plan.hits))


def test_a_side_is_proved_by_the_seconds_of_all_its_pieces_where_no_pair_of_them_tells_enough():
    """Of 17 pieces in 14 hits; that 13 do not do took the search from below more than five times as long."""
    drawn = random_job(132, pieces=40, sides=3)
    back = replace(drawn, pieces=tuple(piece for piece in drawn.pieces if piece.side == "back"))
    plan = plan_hits(back, effort=1.0)
    assert (plan.status, plan.lower_bound) == (PlanStatus.OPTIMAL, 14)


# ---- the trade


def test_twill_foam_and_glitter_share_a_hit_at_one_setting():
    first = plan_hits(crew_vest_job()).hits[0]
    assert first.lay == first.count == ("life-ring", "anchor", "wave")
    assert (first.temperature_c, first.pressure) == (149, Pressure.MEDIUM)


def test_glitter_is_peeled_hot_and_foam_cold_where_both_come_down():
    peeled = [hit.peel for hit in plan_hits(crew_vest_job()).hits if hit.peel]
    assert peeled == [(PeelStep("wave", Peel.HOT), PeelStep("anchor", Peel.COLD))]


def test_twill_beside_glitter_gets_its_20_seconds_in_two_hits_of_which_none_is_longer_than_15():
    plan = plan_hits(crew_vest_job())
    assert sorted(hit.dwell_s for hit in plan.hits) == [5, 15]
    assert all("life-ring" in hit.count for hit in plan.hits)


def test_twill_that_holds_after_any_hit_gets_its_last_seconds_first_so_that_nothing_is_heated_again():
    job = crew_vest_job()
    anyhow = replace(job, materials=tuple(replace(material, first_s=0) for material in job.materials))
    plan = plan_hits(anyhow)

    assert [hit.lay for hit in plan.hits] == [("life-ring",), ("anchor", "wave")]
    assert [hit.dwell_s for hit in plan.hits] == [5, 15]
    assert plan.totals.reheats == 0


def test_twill_that_holds_only_after_15_seconds_gets_them_first_and_its_last_5_under_a_cover():
    plan = plan_hits(crew_vest_job())

    assert [hit.dwell_s for hit in plan.hits] == [15, 5]
    assert plan.hits[1].count == ("life-ring",)
    assert plan.hits[1].cover
    assert plan.proved[-1] == "reheats"


def test_glitter_on_foam_is_laid_once_the_foam_is_down():
    job = job_on_plain_back(("lamp", FOAM, MIDDLE), ("gleam", GLITTER, Box(220, 310, 40, 40)))

    plan = plan_hits(job)

    assert hit_that_lays(plan, "lamp") < hit_that_lays(plan, "gleam")
    assert plan.status == PlanStatus.OPTIMAL


def test_nothing_may_lie_on_glitter():
    job = job_on_plain_back(("gleam", GLITTER, MIDDLE), ("lamp", FOAM, Box(220, 310, 40, 40)))

    with pytest.raises(NoSoundSequenceError, match="lamp lies on gleam, and Glitter film does not take"):
        plan_hits(job)


def test_a_carrier_that_reaches_a_bare_neighbour_waits_until_that_one_is_down():
    near = Box(303, 300, 60, 60)  # 3 mm beside, under the foam's carrier of 6 mm
    job = job_on_plain_back(("patch", TWILL, MIDDLE), ("lamp", FOAM, near))

    plan = plan_hits(job)

    assert hit_that_lays(plan, "patch") != hit_that_lays(plan, "lamp")
    assert broken_rules(job, plan) == []


def test_a_piece_that_takes_no_carrier_is_laid_after_its_neighbour_with_one():
    touchy = replace(TWILL, carrier_safe=False)
    job = job_on_plain_back(("patch", touchy, MIDDLE), ("lamp", FOAM, Box(303, 300, 60, 60)))

    plan = plan_hits(job)

    assert hit_that_lays(plan, "lamp") < hit_that_lays(plan, "patch")


def test_what_needs_more_heat_than_its_neighbour_bears_goes_first():
    hot = replace(TWILL, key="hot-film", set_c=158, lowest_c=157, hottest_c=165)
    tender = replace(TWILL, key="tender", set_c=140, lowest_c=135, hottest_c=150)
    frame = Polygon(ring_of(Box(100, 100, 380, 480)), holes=(ring_of(Box(140, 140, 300, 400)),))
    sun = Piece("sun", "Sun", "back", hot.key, Outline((frame,)))
    leaf = box_piece("leaf", tender, MIDDLE)

    plan = plan_hits(job_of((leaf, sun), (hot, tender), sides=(PLAIN,)))

    assert hit_that_lays(plan, "sun") < hit_that_lays(plan, "leaf")


def test_a_second_press_follows_the_peel_under_a_cover_sheet():
    film = replace(GLITTER, key="film", finish_s=5, guard=False)
    plan = plan_hits(job_on_plain_back(("gleam", film, MIDDLE)))

    first, second = plan.hits
    assert (first.cover, second.cover, second.count) == (False, True, ("gleam",))
    assert second.dwell_s == 5


def test_a_piece_wider_than_the_platen_is_pressed_in_parts():
    plan = plan_hits(job_on_plain_back(("banner", TWILL, Box(10, 300, 540, 60))))

    assert [hit.count for hit in plan.hits] == [("banner",), ("banner",)]
    assert [hit.lay for hit in plan.hits] == [("banner",), ()]


def test_the_platen_keeps_off_metal():
    zip_zone = Zone(ZoneKind.KEEP_OUT, Box(270, 0, 20, 700), "zip")
    side = replace(BACK, zones=(zip_zone,))
    job = job_on_plain_back(
        ("left", TWILL, Box(100, 300, 80, 60)), ("right", TWILL, Box(400, 300, 80, 60)), sides=(side,)
    )

    plan = plan_hits(job)

    assert [hit.lay for hit in plan.hits] == [("left",), ("right",)]
    assert plan.status == PlanStatus.OPTIMAL


def test_pieces_that_share_no_temperature_are_pressed_in_turn_with_one_change():
    warm = replace(TWILL, key="warm", set_c=135, lowest_c=130, hottest_c=140)
    job = job_on_plain_back(("a", TWILL, Box(0, 0, 60, 60)), ("b", warm, Box(480, 600, 60, 60)))

    plan = plan_hits(job)

    assert plan.totals.temperature_changes == 1
    assert {hit.temperature_c for hit in plan.hits} == {149, 135}


def test_sides_whose_hits_share_a_temperature_change_it_once_between_them():
    warm = replace(TWILL, key="warm", set_c=135, lowest_c=130, hottest_c=140)
    front = replace(PLAIN, name="front")
    job = job_of(
        [
            box_piece(f"{name}-{side}", material, box, side)
            for side in ("back", "front")
            for name, material, box in (
                ("hot", TWILL, Box(0, 0, 60, 60)),
                ("mild", warm, Box(480, 600, 60, 60)),
            )
        ],
        (TWILL, warm),
        sides=(PLAIN, front),
    )

    plan = plan_hits(job)

    assert plan.totals.hits == 4
    assert plan.totals.temperature_changes == 1


def test_a_job_without_pieces_has_a_plan_without_hits():
    plan = plan_hits(job_of((), (TWILL,)))
    assert (plan.hits, plan.lower_bound, plan.status) == ((), 0, PlanStatus.OPTIMAL)
