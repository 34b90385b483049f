"""Extra hits for pieces that are replaced."""

from dataclasses import replace

import pytest

from models.errors import NoExtraHitError
from models.geometry import Box
from models.job.job import Job, Peel, Pressure
from models.plan.plan import PeelStep
from models.planning.hits.piece_record import untouched
from models.planning.rework.incident import Trouble
from models.planning.rework.plan_rework import plan_extra_hits
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


def test_the_second_press_of_one_new_piece_is_the_first_of_another() -> None:
    """Their carriers meet, so that they are laid for two hits, of which the second one serves both."""
    film = replace(FOAM, key="film", finish_s=5)
    job = a_job(("anchor", film, Box(200, 200, 60, 60)), ("buoy", film, Box(263, 200, 60, 60)))
    hits = judged(job, all_down(job), PEELED, (), replaced("anchor", "buoy"))
    assert [hit.dwell_s for hit in hits] == [15, 15, 5]
    assert hits[1].lay == ("buoy",)
    assert hits[1].why[:2] == (
        "anchor: its second press, 15 s under a cover sheet.",
        "buoy is laid anew: 15 s.",
    )


def test_a_lifted_piece_gets_its_seconds_with_the_second_press_of_a_new_one() -> None:
    """It bears no more at once than the second press takes, and wants as much."""
    brief = replace(GLITTER, key="brief", least_s=5, longest_s=5, carrier_safe=True)
    job = a_job(
        ("badge", replace(TWILL, finish_s=5), Box(200, 200, 60, 60)), ("wave", brief, Box(270, 200, 60, 60))
    )
    trouble = Trouble(lifted_s={"wave": 5}, replaced=("badge",))
    hits = judged(job, all_down(job), frozenset({"badge", "wave"}), (), trouble)
    assert [hit.count for hit in hits] == [("badge",), ("badge", "wave")]


def test_a_hit_ahead_that_was_not_meant_for_it_serves_as_a_second_press() -> None:
    twice = replace(TWILL, key="twice", finish_s=5)
    job = a_job(("badge", twice, Box(200, 200, 60, 60)), ("anchor", TWILL, Box(270, 200, 60, 60)))
    records = {**all_down(job), "anchor": untouched(job)["anchor"]}
    lay_anchor = replace(LAY_BADGE, lay=("anchor",), count=("anchor",), touch_again=("badge",), pad=False)
    mending = judged_mending(job, records, frozenset({"badge"}), (lay_anchor,), replaced("badge"))
    assert [hit.dwell_s for hit in mending.hits] == [20]
    assert mending.rest is not None
    assert mending.rest[0].cover


def on_glitter_that_bears_15_s(first_s: int) -> Job:
    """A badge that has to begin with so many of its 20 s."""
    slow = replace(TWILL, key="slow", first_s=first_s)
    job = a_job(("hull", GLITTER, Box(100, 100, 300, 300)), ("badge", slow, Box(200, 200, 60, 60)))
    return replace(job, materials=(replace(GLITTER, takes_on_top=frozenset({"slow"})), slow))


def test_a_new_piece_begins_with_the_seconds_that_hold_it() -> None:
    job = on_glitter_that_bears_15_s(first_s=15)
    hits = judged(job, all_down(job), PEELED, (), replaced("badge"))
    assert [hit.dwell_s for hit in hits] == [15, 5]


def test_a_new_piece_that_cannot_begin_so_that_it_holds_is_not_laid() -> None:
    job = on_glitter_that_bears_15_s(first_s=16)
    with pytest.raises(NoExtraHitError, match=r"badge wants 16 s in one hit; hull, .* bears 15 s at once"):
        plan_extra_hits(job, all_down(job), PEELED, (), replaced("badge"))


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


def test_a_new_piece_is_not_laid_under_the_carrier_of_one_that_cannot_come_down_before_it() -> None:
    """The anchor was opened early, and bears no more."""
    job = a_job(("wave", GLITTER, Box(263, 200, 60, 60)), ("anchor", FOAM, Box(200, 200, 60, 60)))
    records = all_down(job)
    records["anchor"] = replace(records["anchor"], counted_s=(5,), heated_s=(60,))
    with pytest.raises(NoExtraHitError, match="wave cannot be laid before anchor is down"):
        plan_extra_hits(job, records, frozenset({"wave"}), (), replaced("wave"))


def test_a_carrier_is_not_laid_on_a_piece_that_takes_none() -> None:
    job = a_job(("anchor", FOAM, Box(200, 200, 60, 60)), ("wave", GLITTER, Box(263, 200, 60, 60)))
    with pytest.raises(NoExtraHitError, match="carrier of anchor would lie on wave, which takes none"):
        plan_extra_hits(job, all_down(job), PEELED, (), replaced("anchor"))
