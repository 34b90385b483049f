"""Extra hits for pieces that lifted."""

from dataclasses import replace

from models.geometry import Box
from models.job.job import Pressure
from models.planning.hits.piece_record import untouched
from models.planning.rework.incident import Trouble
from models.planning.rework.plan_rework import seconds_short
from tests.judged_extra_hits import all_down, judged, judged_mending, lifted
from tests.sample_jobs import (
    BACK,
    FOAM,
    GLITTER,
    TWILL,
    box_piece,
    job_of,
)
from tests.troubled_vests import (
    BANNER,
    FIRST,
    JOB,
    LAY_BADGE,
    LEFT,
    PEELED,
    PLAIN_BACK,
    RIGHT,
    SECOND,
    a_job,
    pressed,
    refusal,
)


def test_a_lifted_piece_gets_its_seconds_again() -> None:
    records = pressed(JOB, (FIRST, 15), (SECOND, 5))
    (hit,) = judged(JOB, records, PEELED, (), lifted({"anchor": 15}))
    assert hit.dwell_s == 15
    assert hit.count == ("anchor",)
    assert hit.peel == ()
    assert hit.why[0] == "anchor has lifted: 15 s again."


def test_the_person_may_ask_for_fewer_seconds() -> None:
    records = pressed(JOB, (FIRST, 15), (SECOND, 5))
    (hit,) = judged(JOB, records, PEELED, (), lifted({"anchor": 6}))
    assert hit.dwell_s == 6


def test_pieces_of_one_setting_near_each_other_share_one_extra_hit() -> None:
    records = pressed(JOB, (FIRST, 15), (SECOND, 5))
    needs = {"anchor": 15, "wave": 10}
    (hit,) = judged(JOB, records, PEELED, (), lifted(needs))
    assert hit.count == ("anchor", "wave")
    assert hit.dwell_s == 15


def test_a_lifted_guarded_piece_is_pressed_under_a_cover() -> None:
    job = a_job(("wave", GLITTER, Box(200, 200, 80, 30)))
    (hit,) = judged(job, all_down(job), PEELED, (), lifted({"wave": 10}))
    assert hit.cover


def test_no_other_piece_is_heated_where_the_platen_can_lie_beside_it() -> None:
    job = a_job(("anchor", FOAM, Box(300, 200, 60, 60)), ("badge", TWILL, Box(380, 200, 60, 60)))
    (hit,) = judged(job, all_down(job), PEELED, (), lifted({"anchor": 15}))
    assert hit.touch_again == ()
    assert hit.platen.right <= 380


def test_the_platen_lies_with_the_lifted_piece_in_its_middle() -> None:
    job = a_job(("anchor", FOAM, Box(300, 200, 60, 60)))
    (hit,) = judged(job, all_down(job), PEELED, (), lifted({"anchor": 15}))
    assert hit.platen.centre == (330, 230)


def test_pieces_too_far_apart_for_one_platen_take_two_hits() -> None:
    job = a_job(("anchor", FOAM, Box(20, 200, 60, 60)), ("buoy", FOAM, Box(700, 200, 60, 60)))
    needs = {"anchor": 15, "buoy": 15}
    hits = judged(job, all_down(job), PEELED, (), lifted(needs))
    assert [hit.count for hit in hits] == [("anchor",), ("buoy",)]
    assert [hit.n for hit in hits] == [1, 2]


def test_pieces_of_two_settings_side_by_side_take_two_hits() -> None:
    hot = replace(TWILL, key="woven", set_c=158, lowest_c=156, hottest_c=160)
    warm = replace(FOAM, hottest_c=160)
    job = a_job(
        ("patch", hot, Box(200, 200, 60, 60)),
        ("anchor", replace(warm, pressures=(Pressure.LIGHT,)), Box(280, 200, 60, 60)),
    )
    needs = {"patch": 20, "anchor": 15}
    assert len(judged(job, all_down(job), PEELED, (), lifted(needs))) == 2


def test_pieces_on_two_sides_take_two_hits() -> None:
    front = replace(PLAIN_BACK, name="front")
    badge = box_piece("badge", TWILL, Box(200, 200, 60, 60), side="front")
    anchor = box_piece("anchor", TWILL, Box(200, 200, 60, 60))
    job = job_of([anchor, badge], [TWILL], sides=(PLAIN_BACK, front))
    needs = {"anchor": 20, "badge": 20}
    hits = judged(job, all_down(job), frozenset(), (), lifted(needs))
    assert [hit.side for hit in hits] == ["back", "front"]


def test_seconds_that_a_neighbour_does_not_bear_at_once_are_given_in_two_hits() -> None:
    records = pressed(JOB, (FIRST, 15), (SECOND, 5))
    hits = judged(JOB, records, PEELED, (), lifted({"life-ring": 20}))
    assert sum(hit.dwell_s for hit in hits) == 20
    assert max(hit.dwell_s for hit in hits) <= GLITTER.longest_s


def test_every_part_of_a_lifted_large_piece_gets_its_seconds() -> None:
    job = a_job(("banner", TWILL, Box(50, 200, 780, 60)))
    hits = judged(job, all_down(job), frozenset(), (), lifted({"banner": 20}))
    assert len(hits) == 2


def test_the_temperature_is_the_materials_own_where_nothing_forbids_it() -> None:
    job = a_job(("wave", GLITTER, Box(200, 200, 80, 30)))
    (hit,) = judged(job, all_down(job), PEELED, (), lifted({"wave": 10}))
    assert hit.temperature_c == GLITTER.set_c


def test_the_temperature_stays_that_of_the_next_hit_where_the_piece_takes_it() -> None:
    job = a_job(("anchor", FOAM, Box(20, 200, 60, 60)), ("badge", TWILL, Box(700, 200, 60, 60)))
    records = {**all_down(job), "badge": untouched(job)["badge"]}
    lay_badge = replace(LAY_BADGE, platen=Box(600, 0, 400, 500), temperature_c=152, lay=("badge",), pad=False)
    (hit,) = judged(job, records, frozenset({"anchor"}), (lay_badge,), lifted(anchor=15))
    assert hit.temperature_c == 152


def test_a_next_hit_out_of_the_pieces_window_does_not_sway_its_temperature() -> None:
    hot = replace(TWILL, key="hot", set_c=162, lowest_c=161, hottest_c=170)
    job = a_job(("wave", GLITTER, Box(20, 200, 60, 60)), ("badge", hot, Box(700, 200, 60, 60)))
    job = replace(job, fabric=replace(job.fabric, hottest_c=170))
    records = {**all_down(job), "badge": untouched(job)["badge"]}
    lay_badge = replace(LAY_BADGE, platen=Box(600, 0, 400, 500), temperature_c=162, lay=("badge",), pad=False)
    (hit,) = judged(job, records, frozenset({"wave"}), (lay_badge,), lifted(wave=10))
    assert hit.temperature_c == GLITTER.set_c


def test_the_press_stays_as_it_stands_where_the_piece_takes_that() -> None:
    job = a_job(("anchor", FOAM, Box(20, 200, 60, 60)))
    last = replace(LAY_BADGE, temperature_c=152)
    (hit,) = judged(job, all_down(job), PEELED, (), lifted(anchor=15), last=last)
    assert hit.temperature_c == 152


def test_the_side_that_lies_under_the_press_comes_first_and_that_of_the_next_hit_last() -> None:
    sides = tuple(replace(PLAIN_BACK, name=name) for name in ("back", "front", "hood"))
    pieces = [box_piece(side.name, TWILL, Box(200, 200, 60, 60), side=side.name) for side in sides]
    pieces.append(box_piece("badge", TWILL, Box(700, 200, 60, 60)))
    job = job_of(pieces, [TWILL], sides=sides)
    records = {**all_down(job), "badge": untouched(job)["badge"]}
    ahead = replace(LAY_BADGE, platen=Box(600, 0, 400, 500), pad=False)
    needs = {side.name: 20 for side in sides}
    last = replace(LAY_BADGE, side="hood")
    hits = judged(job, records, frozenset(), (ahead,), lifted(needs), last=last)
    assert [hit.side for hit in hits] == ["hood", "front", "back"]


def test_of_two_hits_the_one_for_which_the_press_is_set_already_comes_first() -> None:
    cool = replace(FOAM, key="cool", set_c=130, lowest_c=125, hottest_c=135)
    job = a_job(("anchor", cool, Box(20, 200, 60, 60)), ("buoy", FOAM, Box(700, 200, 60, 60)))
    needs = {"anchor": 15, "buoy": 15}
    for stands_c, first in ((130, "anchor"), (149, "buoy")):
        last = replace(LAY_BADGE, temperature_c=stands_c)
        hits = judged(job, all_down(job), PEELED, (), lifted(needs), last=last)
        assert hits[0].count == (first,)


def test_a_piece_that_has_lifted_need_not_begin_anew() -> None:
    """It wants 4 s more than its neighbour bears at once, and may get them in any two hits."""
    slow = replace(TWILL, key="slow", first_s=18, least_s=20)
    job = a_job(("hull", GLITTER, Box(100, 100, 300, 300)), ("badge", slow, Box(200, 200, 60, 60)))
    job = replace(job, materials=(replace(GLITTER, takes_on_top=frozenset({"slow"})), slow))
    hits = judged(job, all_down(job), PEELED, (), lifted(badge=19))
    assert sorted(hit.dwell_s for hit in hits) == [4, 15]


def test_of_two_presses_the_one_of_the_next_hit_is_taken() -> None:
    job = a_job(("anchor", FOAM, Box(20, 200, 60, 60)), ("badge", TWILL, Box(700, 200, 60, 60)))
    job = replace(
        job, press=replace(job.press, name="wide"), more_presses=(replace(job.press, name="by door"),)
    )
    records = {**all_down(job), "badge": untouched(job)["badge"]}
    lay_badge = replace(LAY_BADGE, press="by door", platen=Box(600, 0, 400, 500), pad=False)
    (hit,) = judged(job, records, frozenset({"anchor"}), (lay_badge,), lifted(anchor=15))
    assert hit.press == "by door"


def test_the_temperature_gives_way_to_a_piece_that_bears_less() -> None:
    tender = replace(TWILL, key="tender", hottest_c=147)
    job = a_job(("hull", tender, Box(100, 100, 300, 300)), ("anchor", FOAM, Box(200, 200, 60, 60)))
    (hit,) = judged(job, all_down(job), PEELED, (), lifted({"anchor": 15}))
    assert hit.temperature_c == 147


def test_the_pressure_is_the_first_that_all_take() -> None:
    firm_first = replace(TWILL, key="firm-first", pressures=(Pressure.FIRM, Pressure.MEDIUM))
    job = a_job(("badge", firm_first, Box(200, 200, 60, 60)))
    (hit,) = judged(job, all_down(job), frozenset(), (), lifted({"badge": 20}))
    assert hit.pressure == Pressure.FIRM


def test_a_pad_goes_in_over_a_seam_and_the_reason_says_so() -> None:
    job = a_job(("badge", TWILL, Box(200, 110, 60, 60)), side=BACK)
    (hit,) = judged(job, all_down(job), frozenset(), (), lifted({"badge": 20}))
    assert hit.pad
    assert "Pad: the platen lies over yoke seam." in hit.why


def test_only_the_part_that_lifted_is_pressed_again() -> None:
    """A banner of two parts, of which the second is still to come, lifts at the check of the first."""
    (hit,) = judged(BANNER, pressed(BANNER, (LEFT, 20)), frozenset(), (RIGHT,), lifted(banner=20))
    assert hit.platen.holds(Box(50, 200, 390, 60))
    assert hit.why[0] == "banner has lifted: 20 s again."


def test_a_piece_that_lifts_half_way_still_gets_its_last_seconds_from_the_hits_ahead() -> None:
    mending = judged_mending(JOB, pressed(JOB, (FIRST, 15)), PEELED, (SECOND,), lifted({"life-ring": 20}))
    assert [hit.dwell_s for hit in mending.hits] == [15]
    assert mending.rest is None
    assert mending.hits[0].why[0] == "Life ring has lifted: 15 s again."


def test_no_extra_hit_is_made_for_seconds_that_the_hits_ahead_give() -> None:
    assert refusal(JOB, pressed(JOB, (FIRST, 15)), {"life-ring": 5}, (SECOND,)) == (
        "the hits ahead give these their seconds anyway: Life ring"
    )


def test_only_the_part_that_was_opened_early_is_pressed_on() -> None:
    missed = seconds_short(BANNER, pressed(BANNER, (LEFT, 12)), LEFT, (RIGHT,))
    assert missed == {"banner": (8, 0)}
    (hit,) = judged(BANNER, pressed(BANNER, (LEFT, 12)), frozenset(), (RIGHT,), Trouble(short_s=missed))
    assert hit.dwell_s == 8


def test_a_lift_and_an_early_opening_share_an_extra_hit() -> None:
    records = pressed(JOB, (FIRST, 12))
    trouble = Trouble(lifted_s={"wave": 10}, short_s={"anchor": (3,), "life-ring": (3,)})
    (hit,) = judged(JOB, records, frozenset({"wave"}), (SECOND,), trouble)
    assert hit.dwell_s == 10
