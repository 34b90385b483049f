"""A frozen hit is never ordered bare over a piece that wants a cover sheet by now."""

from dataclasses import replace

from models.geometry import Box
from models.planning.assembly.at_press import RECKONED_BARE, as_ordered, plan_as_ordered
from models.planning.hits.piece_record import untouched
from models.planning.rework.hits_ahead import rest_after
from models.planning.rework.incident import Pressed
from tests.sample_jobs import TWILL, crew_vest_job, crew_vest_plan
from tests.troubled_vests import LAY_BADGE, LEFT, RIGHT, a_job, pressed

COVERED = replace(TWILL, key="covered-twill", cover=True)
BANNER = a_job(("banner", COVERED, Box(50, 200, 780, 60)))
COVERED_LEFT = replace(LEFT, cover=True)
NOT_BARE = "Cover sheet: banner must not be pressed bare."
GUARDED = replace(TWILL, key="guarded-twill", guard=True)
HULL = a_job(("hull", GUARDED, Box(100, 200, 60, 60)), ("badge", TWILL, Box(250, 200, 60, 60)))
LAY_HULL = replace(LAY_BADGE, lay=("hull",), count=("hull",), dwell_s=15, pad=False)
WITH_BADGE = replace(LAY_BADGE, n=2, count=("hull", "badge"), dwell_s=20, pad=False)
"""Planned for a hull that has had 15 of its 20 s, so bare."""


def test_the_second_part_that_was_frozen_bare_is_ordered_under_a_cover_sheet() -> None:
    ordered = as_ordered(RIGHT, BANNER, pressed(BANNER, (COVERED_LEFT, 20)))
    assert ordered == replace(RIGHT, cover=True, why=(*RIGHT.why, NOT_BARE, RECKONED_BARE))


def test_what_may_be_pressed_bare_is_ordered_as_it_was_frozen() -> None:
    job, (first, second) = crew_vest_job(), crew_vest_plan().hits
    assert as_ordered(first, job, untouched(job)) is first
    assert as_ordered(second, job, pressed(job, (first, 15))) is second
    assert as_ordered(RIGHT, BANNER, pressed(BANNER, (COVERED_LEFT, 20), (RIGHT, 20))) is RIGHT


def test_a_guarded_piece_that_is_down_early_is_not_heated_again_bare() -> None:
    """The press stayed shut for 20 s in place of 15."""
    assert not as_ordered(WITH_BADGE, HULL, pressed(HULL, (LAY_HULL, 15))).cover
    assert as_ordered(WITH_BADGE, HULL, pressed(HULL, (LAY_HULL, 20))).cover


def test_a_cover_sheet_that_was_planned_stays_on() -> None:
    job, (first, second) = crew_vest_job(), crew_vest_plan().hits
    opened_early = pressed(job, (first, 5))
    assert as_ordered(second, job, opened_early) is second


def test_every_hit_of_a_plan_frozen_bare_is_told_as_it_will_be_ordered() -> None:
    frozen = replace(crew_vest_plan(), hits=(COVERED_LEFT, RIGHT))
    told = plan_as_ordered(frozen, BANNER)
    assert [hit.cover for hit in told.hits] == [True, True]
    assert plan_as_ordered(crew_vest_plan(), crew_vest_job()) == crew_vest_plan()


def test_hits_ahead_that_were_frozen_bare_are_covered_after_an_extra_hit() -> None:
    now = Pressed(BANNER, pressed(BANNER, (COVERED_LEFT, 12)), frozenset())
    extra = replace(COVERED_LEFT, lay=(), dwell_s=8)
    (hit,) = rest_after(now, (extra,), (RIGHT,)) or ()
    assert hit.cover
    assert NOT_BARE in hit.why
