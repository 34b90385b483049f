"""Extra hits for pieces that are replaced."""

from dataclasses import replace

import pytest

from models.errors import NoExtraHitError
from models.geometry import Box
from models.job.job import Peel, Pressure
from models.planning.extra_hit import plan_extra_hits
from models.planning.plan import PeelStep
from models.planning.trouble import Trouble
from tests.judged_extra_hits import all_down, judged, judged_mending
from tests.sample_jobs import (
    FOAM,
    GLITTER,
    TWILL,
)
from tests.troubled_vests import (
    BADGE,
    CLASHING,
    FINISH_BADGE,
    JOB,
    LAY_BADGE,
    PEELED,
    UNDER_GLITTER,
    a_job,
    pressed,
    replaced,
)


def test_a_replaced_piece_is_laid_pressed_and_peeled_anew() -> None:
    (hit,) = judged(JOB, all_down(JOB, anchor=58), PEELED, (), replaced("anchor"))
    assert (hit.lay, hit.count, hit.peel) == (("anchor",), ("anchor",), (PeelStep("anchor", Peel.COLD),))
    assert hit.why[0] == "anchor is laid anew: 15 s."


def test_a_replaced_piece_is_pressed_within_what_its_neighbours_bear() -> None:
    job = a_job(("hull", TWILL, Box(100, 100, 300, 300)), ("anchor", FOAM, Box(120, 420, 60, 60)))
    (hit,) = judged(job, all_down(job, hull=60), PEELED, (), replaced("anchor"))
    assert hit.touch_again == ()


def test_a_replaced_piece_gets_its_second_press_too() -> None:
    hits = judged(BADGE, all_down(BADGE), frozenset(), (), replaced("badge"))
    assert [(hit.dwell_s, hit.cover) for hit in hits] == [(20, False), (5, True)]


def test_a_second_press_that_is_ahead_serves_a_replaced_piece() -> None:
    records = pressed(BADGE, (LAY_BADGE, 20))
    mending = judged_mending(BADGE, records, frozenset(), (FINISH_BADGE,), replaced("badge"))
    assert [hit.dwell_s for hit in mending.hits] == [20]


def test_a_piece_that_wants_a_cover_at_its_first_press_gets_it_again() -> None:
    job = a_job(("badge", replace(TWILL, cover=True), Box(200, 200, 60, 60)))
    (hit,) = judged(job, all_down(job), frozenset(), (), replaced("badge"))
    assert hit.cover
    assert "Cover sheet: badge must not be pressed bare." in hit.why


def test_a_piece_under_another_one_is_not_replaced() -> None:
    with pytest.raises(NoExtraHitError, match="anchor cannot be replaced: wave lies on it"):
        plan_extra_hits(UNDER_GLITTER, all_down(UNDER_GLITTER), PEELED, (), replaced("anchor"))


def test_a_piece_on_another_one_is_replaced() -> None:
    (hit,) = judged(UNDER_GLITTER, all_down(UNDER_GLITTER), PEELED, (), replaced("wave"))
    assert hit.lay == ("wave",)


def test_both_of_a_stack_are_replaced_the_lower_one_first() -> None:
    hits = judged(UNDER_GLITTER, all_down(UNDER_GLITTER), PEELED, (), replaced("anchor", "wave"))
    assert [hit.lay for hit in hits] == [("anchor",), ("wave",)]


def test_replaced_pieces_whose_carriers_would_meet_take_two_hits() -> None:
    job = a_job(("anchor", FOAM, Box(200, 200, 60, 60)), ("buoy", FOAM, Box(263, 200, 60, 60)))
    hits = judged(job, all_down(job), PEELED, (), replaced("anchor", "buoy"))
    assert [hit.lay for hit in hits] == [("anchor",), ("buoy",)]


def test_a_stack_whose_pieces_share_no_setting_is_replaced_one_by_one() -> None:
    light = replace(GLITTER, pressures=(Pressure.LIGHT,))
    firm = replace(FOAM, pressures=(Pressure.FIRM,))
    job = a_job(("anchor", firm, Box(200, 200, 60, 60)), ("wave", light, Box(210, 210, 20, 20)))
    hits = judged(job, all_down(job), PEELED, (), replaced("anchor", "wave"))
    assert [hit.lay for hit in hits] == [("anchor",), ("wave",)]


def test_a_piece_that_takes_no_carrier_is_replaced_after_the_one_whose_carrier_reaches_it() -> None:
    job = a_job(("wave", GLITTER, Box(263, 200, 60, 60)), ("anchor", FOAM, Box(200, 200, 60, 60)))
    hits = judged(job, all_down(job), PEELED, (), replaced("wave", "anchor"))
    assert [hit.lay for hit in hits] == [("anchor",), ("wave",)]


def test_new_pieces_that_no_order_of_laying_frees_are_refused_as_such() -> None:
    job = a_job(("wave", GLITTER, Box(263, 200, 60, 60)), ("foam", GLITTER, Box(200, 200, 60, 60)))
    with pytest.raises(NoExtraHitError, match="no order of laying frees these of each other: wave and foam"):
        plan_extra_hits(job, all_down(job), PEELED, (), replaced("wave", "foam"))


def test_a_third_new_piece_shares_the_hit_of_one_of_two_that_clash() -> None:
    hits = judged(CLASHING, all_down(CLASHING), PEELED, (), replaced("anchor", "buoy", "lamp"))
    assert len(hits) == 2


def test_a_lifted_piece_shares_the_hit_of_one_of_two_new_ones_that_clash() -> None:
    trouble = Trouble(lifted_s={"lamp": 15}, replaced=("anchor", "buoy"))
    assert len(judged(CLASHING, all_down(CLASHING), frozenset({"anchor", "buoy", "lamp"}), (), trouble)) == 2


def test_a_carrier_is_not_laid_on_a_piece_that_takes_none() -> None:
    job = a_job(("anchor", FOAM, Box(200, 200, 60, 60)), ("wave", GLITTER, Box(263, 200, 60, 60)))
    with pytest.raises(NoExtraHitError, match="carrier of anchor would lie on wave, which takes none"):
        plan_extra_hits(job, all_down(job), PEELED, (), replaced("anchor"))
