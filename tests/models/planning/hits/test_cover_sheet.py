"""A piece that must not be pressed bare lies under a cover sheet in every hit until it is down."""

import random
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from models.errors import NoExtraHitError, NoSoundSequenceError
from models.geometry import Box
from models.job.job import GarmentOrder, Job, Pressure, SideInSize, Zone, ZoneKind
from models.plan.plan import Hit, Plan
from models.planning.assembly.at_press import as_ordered
from models.planning.explain.setting_reasons import cover_and_pad
from models.planning.hits.effects import under_cover, with_effects
from models.planning.hits.piece_record import untouched
from models.planning.planner import plan_sizes
from models.planning.rework.incident import Trouble
from models.planning.rework.plan_rework import seconds_short
from models.planning.search.solve_job import plan_hits
from models.planning.what_if import with_platen
from tests.garment_on_its_way import PressedGarment
from tests.judged_extra_hits import all_down, judged, judged_mending, lifted
from tests.random_jobs import pressed_under_cover, random_job, with_second_press
from tests.rule_checker import broken_rules, harm_of, heated_bare
from tests.sample_jobs import BACK, FOAM, GLITTER, TWILL, crew_vest_job
from tests.troubled_vests import (
    FIRST,
    LAY_BADGE,
    LEFT,
    PEELED,
    PLAIN_BACK,
    RIGHT,
    SECOND,
    a_job,
    heated,
    pressed,
    replaced,
)

COVERED = replace(TWILL, key="covered-twill", label="Covered twill", cover=True)
BANNER = a_job(("banner", COVERED, Box(50, 200, 780, 60)))
SHORT_BANNER = a_job(("banner", COVERED, Box(50, 200, 390, 60)))
BADGE = a_job(("badge", COVERED, Box(200, 200, 100, 60)))
NOT_BARE = "Cover sheet: {} must not be pressed bare."
COVERED_LEFT, COVERED_RIGHT = replace(LEFT, cover=True), replace(RIGHT, cover=True)


def planned(job: Job) -> Plan:
    """The plan of the job, in which the independent judge finds no fault."""
    plan = plan_hits(job)
    assert broken_rules(job, plan) == []
    return plan


def covers(hits: Sequence[Hit]) -> list[bool]:
    return [hit.cover for hit in hits]


def vests_under_cover() -> Job:
    """The crew's vests, whose twill ring wants a cover sheet and has its seconds in two hits."""
    job = crew_vest_job()
    twill, *others = job.materials
    unguarded = (replace(material, guard=False) for material in others)
    return replace(job, materials=(replace(twill, cover=True), *unguarded))


# ---- the planner


def test_each_part_of_a_piece_larger_than_the_platen_is_pressed_under_a_cover_sheet() -> None:
    plan = planned(BANNER)
    assert covers(plan.hits) == [True, True]
    assert all(NOT_BARE.format("banner") in hit.why for hit in plan.hits)


def test_seconds_divided_over_two_hits_are_all_given_under_a_cover_sheet() -> None:
    plan = planned(vests_under_cover())
    assert [hit.dwell_s for hit in plan.hits] == [15, 5]
    assert covers(plan.hits) == [True, True]
    assert NOT_BARE.format("Life ring") in plan.hits[1].why


def test_a_piece_that_is_down_and_unguarded_is_heated_again_without_a_cover_sheet() -> None:
    bears_more = replace(COVERED, takes_on_top=frozenset({GLITTER.key}))
    job = a_job(("badge", bears_more, Box(200, 200, 100, 60)), ("gleam", GLITTER, Box(220, 210, 40, 30)))
    plan = planned(job)
    assert [hit.lay for hit in plan.hits] == [("badge",), ("gleam",)]
    assert covers(plan.hits) == [True, False]


def test_each_part_is_covered_on_whichever_press_it_is_pressed() -> None:
    plan = planned(with_second_press(BANNER))
    assert len(plan.hits) > 1
    assert all(plan_hit.cover for plan_hit in plan.hits)


def test_each_part_is_covered_in_every_size() -> None:
    side = replace(BACK, zones=(), width_mm=900, sizes=(SideInSize("S", 880, 700, (), (-20, 0)),))
    orders = (GarmentOrder(1, "M"), GarmentOrder(2, "S"))
    plan = plan_sizes(replace(BANNER, sides=(side,), garments=orders))
    assert covers(plan.of_size("S").hits) == covers(plan.of_size("M").hits) == [True, True]


def test_a_smaller_platen_that_is_tried_presses_every_part_under_a_cover_sheet() -> None:
    assert covers(planned(SHORT_BANNER).hits) == [True]
    assert covers(planned(with_platen(SHORT_BANNER, 0, wider_mm=-100)).hits) == [True, True]


@given(st.integers(0, 2**32 - 1), st.integers(1, 6), st.booleans())
@settings(max_examples=25, deadline=None)
def test_no_random_job_is_pressed_bare_where_its_pieces_want_a_cover(
    seed: int, pieces: int, two_presses: bool
) -> None:
    job = pressed_under_cover(random_job(seed, pieces, sides=2), seed)
    job = with_second_press(job) if two_presses else job
    try:
        plan = plan_hits(job, effort=0.5)
    except NoSoundSequenceError:
        return
    assert broken_rules(job, plan) == []


# ---- what one closing does


SOFT = replace(COVERED, key="soft-twill", pressures=(Pressure.LIGHT,))
ZIP = Zone(ZoneKind.KEEP_OUT, Box(0, 365, 430, 10), "zip")
BESIDE = a_job(
    ("banner", SOFT, Box(50, 200, 780, 60)),
    ("badge", FOAM, Box(100, 300, 60, 60)),
    side=replace(PLAIN_BACK, zones=(ZIP,)),
)
SOFT_LEFT = replace(COVERED_LEFT, pressure=Pressure.LIGHT)
SOFT_RIGHT = replace(COVERED_RIGHT, pressure=Pressure.LIGHT)
FOR_BADGE = replace(LEFT, n=2, lay=("badge",), count=("badge",), dwell_s=15)
"""Touches the banner's left part, and its pressure does not count for the banner."""


def test_a_piece_that_a_hit_touches_and_does_not_count_for_is_covered_until_it_is_down() -> None:
    records = pressed(BESIDE, (SOFT_LEFT, 20))
    hit = with_effects(FOR_BADGE, BESIDE, records, ())
    assert hit.count == ("badge",)
    assert hit.cover
    assert [piece.id for piece in under_cover(hit, BESIDE, records)] == ["banner"]
    assert cover_and_pad(hit, BESIDE, records) == [NOT_BARE.format("banner")]


def test_once_it_is_down_a_hit_that_touches_it_is_bare() -> None:
    down = pressed(BESIDE, (SOFT_LEFT, 20), (SOFT_RIGHT, 20))
    assert not with_effects(FOR_BADGE, BESIDE, down, ()).cover


def test_a_piece_not_laid_yet_wants_no_cover_sheet() -> None:
    assert not with_effects(FOR_BADGE, BESIDE, untouched(BESIDE), ()).cover


def test_the_cover_sheet_is_over_the_pieces_that_want_one_and_no_others() -> None:
    second_press = replace(TWILL, key="film", finish_s=5)
    guarded = replace(GLITTER, takes_on_top=frozenset())
    job = a_job(
        ("patch", COVERED, Box(100, 100, 60, 60)),
        ("gleam", guarded, Box(200, 100, 60, 60)),
        ("film", second_press, Box(300, 100, 60, 60)),
        ("plain", TWILL, Box(100, 200, 60, 60)),
    )
    records = all_down(job)
    records["film"] = replace(records["film"], finish_due_s=(5,))
    hit = replace(LAY_BADGE, lay=("patch",), dwell_s=20)
    fresh = {**records, "patch": untouched(job)["patch"]}
    assert [piece.id for piece in under_cover(hit, job, fresh)] == ["patch", "gleam", "film"]


# ---- when something went wrong


def test_a_piece_that_lifted_is_pressed_again_under_its_cover_sheet() -> None:
    (hit,) = judged(BADGE, all_down(BADGE), (), (), lifted(badge=20))
    assert hit.cover
    assert NOT_BARE.format("badge") in hit.why


def test_what_an_early_opening_left_out_is_pressed_under_the_cover_sheet() -> None:
    lay = replace(LAY_BADGE, cover=True, pad=False)
    records = pressed(BADGE, (lay, 12))
    (hit,) = judged(BADGE, records, (), (), Trouble(short_s=seconds_short(BADGE, records, lay, ())))
    assert (hit.dwell_s, hit.cover) == (8, True)
    assert NOT_BARE.format("badge") in hit.why


def test_the_part_that_was_opened_early_and_the_part_ahead_are_both_covered() -> None:
    records = pressed(BANNER, (COVERED_LEFT, 12))
    short_s = seconds_short(BANNER, records, COVERED_LEFT, (COVERED_RIGHT,))
    mending = judged_mending(BANNER, records, (), (COVERED_RIGHT,), Trouble(short_s=short_s))
    assert covers(mending.hits) == [True]
    assert mending.rest is None


def test_a_new_piece_of_several_parts_is_covered_in_every_extra_hit() -> None:
    hits = judged(BANNER, all_down(BANNER), (), (), replaced("banner"))
    assert covers(hits) == [True, True]


def test_extra_hits_of_pieces_beside_it_cover_the_part_that_was_pressed() -> None:
    """Between banner and zip no platen holds the badge; the banner's second part is still ahead."""
    records = pressed(BESIDE, (SOFT_LEFT, 20), (FOR_BADGE, 15))
    (hit,) = judged(BESIDE, records, {"badge"}, (SOFT_RIGHT,), lifted(badge=15))
    assert (hit.count, hit.cover) == (("badge",), True)


def test_a_side_planned_anew_presses_what_is_left_under_the_cover_sheet() -> None:
    """The anchor bears 15 s more, and the life ring's last 5 s cannot but heat it too."""
    job = vests_under_cover()
    records = heated(pressed(job, (replace(FIRST, cover=True), 15)), anchor=45)
    mending = judged_mending(job, records, PEELED, (replace(SECOND, cover=True),), lifted(anchor=15))
    assert [(hit.count, hit.cover) for hit in mending.hits] == [(("life-ring", "anchor"), True)]
    assert NOT_BARE.format("Life ring") in mending.hits[0].why


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 2**32 - 1), st.integers(1, 6))
def test_no_random_garment_is_mended_bare_where_its_pieces_want_a_cover(seed: int, pieces: int) -> None:
    """Hits are opened early or late; the judge asks of each what it would heat bare, as it is ordered."""
    dice = random.Random(seed)
    with suppress(NoExtraHitError, NoSoundSequenceError):
        garment = PressedGarment(pressed_under_cover(random_job(seed, pieces), seed), effort=0)
        while garment.ahead and not harm_of(garment.judged(), garment.ahead[0]):
            ordered = as_ordered(garment.ahead[0], garment.job, garment.records)
            assert heated_bare(garment.judged(), ordered) == []
            garment.press_next(max(1, garment.next_dwell_s + dice.choice((0, 0, 0, -6, 6))))
