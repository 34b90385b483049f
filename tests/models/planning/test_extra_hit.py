"""Extra hits: for pieces that lifted, and for what an early opening left out."""

from collections.abc import Mapping
from dataclasses import replace

import pytest

from models.errors import NoExtraHitError
from models.geometry import Box
from models.job.job import Job, Material, Peel, Pressure, Side, Zone, ZoneKind
from models.planning.extra_hit import plan_extra_hits, seconds_short
from models.planning.piece_record import PieceRecord, after_hit, untouched
from models.planning.plan import Hit, PeelStep
from models.planning.trouble import Trouble
from tests.judged_extra_hits import Records, all_down, judged, judged_mending, lifted, short
from tests.sample_jobs import (
    BACK,
    FOAM,
    GLITTER,
    TWILL,
    box_piece,
    crew_vest_job,
    crew_vest_plan,
    job_of,
)

JOB = crew_vest_job()
FIRST, SECOND = crew_vest_plan().hits
PEELED = frozenset({"anchor", "wave"})
PLAIN_BACK = replace(BACK, zones=(), width_mm=900)


def pressed(job: Job, *hits: tuple[Hit, int]) -> dict[str, PieceRecord]:
    """The records after each hit was really held so long."""
    records = untouched(job)
    for hit, seconds in hits:
        records = after_hit(records, job, hit, seconds)
    return records


def a_job(*pieces: tuple[str, Material, Box], side: Side = PLAIN_BACK) -> Job:
    materials = {material.key: material for _, material, _ in pieces}
    made = [box_piece(name, material, box) for name, material, box in pieces]
    return job_of(made, tuple(materials.values()), sides=(side,))


# ---- after an early opening


def test_a_hit_opened_early_leaves_short_what_it_should_have_brought_down() -> None:
    records = pressed(JOB, (FIRST, 12))
    assert seconds_short(JOB, records, FIRST, (SECOND,))["anchor"] == (3,)


def test_what_comes_down_later_is_short_only_of_what_the_rest_does_not_give() -> None:
    records = pressed(JOB, (FIRST, 12))
    assert seconds_short(JOB, records, FIRST, (SECOND,))["life-ring"] == (3,)


def test_what_had_its_least_before_the_early_opening_misses_nothing() -> None:
    records = pressed(JOB, (FIRST, 12))
    assert "wave" not in seconds_short(JOB, records, FIRST, (SECOND,))


def test_a_hit_held_for_its_dwell_leaves_nothing_short() -> None:
    assert seconds_short(JOB, pressed(JOB, (FIRST, 15)), FIRST, (SECOND,)) == {}
    assert seconds_short(JOB, pressed(JOB, (FIRST, 15), (SECOND, 5)), SECOND, ()) == {}


def test_a_piece_with_a_carrier_must_be_down_in_its_hit_even_if_a_later_hit_counts() -> None:
    counts_again = replace(SECOND, count=("life-ring", "anchor"))
    records = pressed(JOB, (FIRST, 12))
    assert seconds_short(JOB, records, FIRST, (counts_again,))["anchor"] == (3,)


def test_what_is_not_laid_is_not_short() -> None:
    assert seconds_short(JOB, untouched(JOB), FIRST, (SECOND,)) == {}


def test_one_extra_hit_gives_all_pieces_the_seconds_of_an_early_opening() -> None:
    records = pressed(JOB, (FIRST, 12))
    missed = seconds_short(JOB, records, FIRST, (SECOND,))
    (hit,) = judged(JOB, records, frozenset({"wave"}), (SECOND,), Trouble(short_s=missed))
    assert hit.dwell_s == 3
    assert hit.count == ("life-ring", "anchor")
    assert hit.touch_again == ("wave",)
    assert hit.peel == (PeelStep("anchor", Peel.COLD),)


def test_a_few_missing_seconds_are_given_as_the_shortest_closing() -> None:
    (hit,) = judged(JOB, pressed(JOB, (FIRST, 14)), frozenset({"wave"}), (SECOND,), short(anchor=(1,)))
    assert hit.dwell_s == JOB.press.shortest_s


FINISHING = replace(TWILL, finish_s=5)
BADGE = a_job(("badge", FINISHING, Box(200, 200, 100, 60)))
LAY_BADGE = replace(FIRST, platen=Box(50, 0, 400, 500), dwell_s=20, lay=("badge",), count=("badge",), peel=())
FINISH_BADGE = replace(LAY_BADGE, n=2, dwell_s=5, lay=(), cover=True)


def test_a_second_press_cut_short_is_wanted_whole() -> None:
    records = pressed(BADGE, (LAY_BADGE, 20), (FINISH_BADGE, 3))
    assert seconds_short(BADGE, records, FINISH_BADGE, ()) == {"badge": (5,)}


def test_a_second_press_that_is_still_ahead_is_not_short() -> None:
    assert seconds_short(BADGE, pressed(BADGE, (LAY_BADGE, 20)), LAY_BADGE, (FINISH_BADGE,)) == {}


def test_a_peeled_piece_whose_second_press_is_ahead_is_not_short() -> None:
    film = replace(FOAM, finish_s=5)
    job = a_job(("badge", film, Box(200, 200, 100, 60)))
    lay = replace(LAY_BADGE, dwell_s=15, peel=(PeelStep("badge", Peel.COLD),))
    assert seconds_short(job, pressed(job, (lay, 15)), lay, (FINISH_BADGE,)) == {}
    assert seconds_short(job, pressed(job, (lay, 11)), lay, (FINISH_BADGE,)) == {"badge": (4,)}


def test_a_second_press_ahead_does_not_make_up_for_the_first_one() -> None:
    assert seconds_short(BADGE, pressed(BADGE, (LAY_BADGE, 15)), LAY_BADGE, (FINISH_BADGE,)) == {
        "badge": (5,)
    }


def test_a_missed_second_press_is_given_in_one_go_under_a_cover() -> None:
    records = pressed(BADGE, (LAY_BADGE, 20), (FINISH_BADGE, 3))
    (hit,) = judged(BADGE, records, frozenset(), (), short(badge=(5,)))
    assert (hit.dwell_s, hit.cover, hit.count) == (5, True, ("badge",))
    assert after_hit(records, BADGE, hit, 5)["badge"].finished


# ---- after a lift


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


BANNER = a_job(("banner", TWILL, Box(50, 200, 780, 60)))
LEFT = replace(LAY_BADGE, platen=Box(40, 0, 400, 500), lay=("banner",), count=("banner",), pad=False)
RIGHT = replace(LEFT, n=2, platen=Box(440, 0, 400, 500), lay=())


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


# ---- a piece that is replaced


def replaced(*pieces: str) -> Trouble:
    return Trouble(replaced=pieces)


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


UNDER_GLITTER = a_job(("anchor", FOAM, Box(200, 200, 60, 60)), ("wave", GLITTER, Box(210, 210, 20, 20)))


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


CLASHING = a_job(
    ("anchor", FOAM, Box(200, 200, 60, 60)),
    ("buoy", FOAM, Box(263, 200, 60, 60)),
    ("lamp", FOAM, Box(200, 330, 60, 60)),
)


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


# ---- what becomes of the hits ahead


def test_hits_ahead_that_stay_sound_stay_as_frozen() -> None:
    trouble = lifted(banner=20)
    assert judged_mending(BANNER, pressed(BANNER, (LEFT, 20)), frozenset(), (RIGHT,), trouble).rest is None


def test_a_hit_ahead_that_has_nothing_left_to_do_is_left_out() -> None:
    """The platen cannot but press the life ring with the anchor, and so gives it its last 5 s."""
    mending = judged_mending(JOB, pressed(JOB, (FIRST, 15)), PEELED, (SECOND,), lifted(anchor=15))
    assert mending.rest == ()


def test_hits_ahead_that_would_be_too_much_are_planned_anew_with_the_extra_ones() -> None:
    """The anchor bears 15 s more, and the life ring's last 5 s cannot but heat it too."""
    records = heated(pressed(JOB, (FIRST, 15)), anchor=45)
    mending = judged_mending(JOB, records, PEELED, (SECOND,), lifted(anchor=15))
    assert [hit.count for hit in mending.hits] == [("life-ring", "anchor")]
    assert mending.rest == ()


def test_hits_on_other_sides_stay_where_one_side_is_planned_anew() -> None:
    front = replace(PLAIN_BACK, name="front")
    badge = box_piece("badge", TWILL, Box(200, 200, 60, 60), side="front")
    job = replace(JOB, pieces=(*JOB.pieces, badge), sides=(*JOB.sides, front))
    third = replace(
        FIRST, n=3, side="front", dwell_s=20, lay=("badge",), count=("badge",), pad=False, peel=()
    )
    records = heated(pressed(job, (FIRST, 15)), anchor=45)
    mending = judged_mending(job, records, PEELED, (SECOND, third), lifted(anchor=15))
    assert mending.rest == (third,)


def test_a_hit_ahead_gets_the_cover_that_a_piece_now_down_needs() -> None:
    """A guarded hull that is new is down after the extra hit, and the next hit heats it again."""
    guarded = replace(TWILL, key="guarded-twill", guard=True)
    job = a_job(("hull", guarded, Box(100, 200, 60, 60)), ("badge", TWILL, Box(250, 200, 60, 60)))
    half = replace(LAY_BADGE, dwell_s=15, lay=("hull",), count=("hull",), pad=False)
    bare = replace(LAY_BADGE, n=2, count=("hull", "badge"), pad=False)
    mending = judged_mending(job, pressed(job, (half, 15)), frozenset(), (bare,), replaced("hull"))
    assert mending.rest == (replace(bare, count=("badge",), touch_again=("hull",), cover=True),)


# ---- where there is none


def refusal(job: Job, records: Records, lifted_s: Mapping[str, int], ahead: tuple[Hit, ...] = ()) -> str:
    with pytest.raises(NoExtraHitError) as caught:
        plan_extra_hits(job, records, PEELED, ahead, lifted(lifted_s))
    return str(caught.value)


def test_a_piece_near_its_total_is_not_pressed_again() -> None:
    records = all_down(JOB, anchor=55)
    assert refusal(JOB, records, {"anchor": 15}) == (
        "anchor has had 55 of its 60 s; another 15 s would be too much"
    )


def heated(records: Records, **seconds: int) -> dict[str, PieceRecord]:
    """The records with more heat in some one-part pieces."""
    return {
        name: replace(record, heated_s=(seconds.get(name, record.heated_s[0]),))
        for name, record in records.items()
    }


def test_seconds_too_few_for_the_shortest_closing_are_refused_in_the_pieces_own_words() -> None:
    assert refusal(JOB, all_down(JOB, anchor=58), {"anchor": 1}) == (
        "anchor has had 58 of its 60 s; another 3 s would be too much"
    )


def test_the_hits_ahead_count_towards_the_total() -> None:
    records = heated(pressed(JOB, (FIRST, 15)), anchor=46)
    assert refusal(JOB, records, {"anchor": 15}, (SECOND,)) == (
        "anchor has had 46 of its 60 s, and the hits ahead add 5; another 15 s would be too much"
    )


def test_seconds_that_the_hits_ahead_cannot_spare_are_not_given_before_them() -> None:
    """The hull, still to come, takes another pressure, and cannot be pressed without the anchor."""
    light = replace(TWILL, key="light", pressures=(Pressure.LIGHT,))
    job = a_job(("anchor", FOAM, Box(200, 200, 60, 60)), ("hull", light, Box(100, 100, 300, 300)))
    lay_hull = replace(LAY_BADGE, n=2, pressure=Pressure.LIGHT, lay=("hull",), count=("hull",))
    records = heated(pressed(job, (replace(LAY_BADGE, lay=("anchor",)), 20)), anchor=40)
    assert refusal(job, records, {"anchor": 15}, (lay_hull,)) == (
        "anchor has had 40 of its 60 s, and the hits ahead add 20; another 15 s would be too much"
    )


def test_a_neighbour_near_its_total_is_in_the_way() -> None:
    job = a_job(("hull", TWILL, Box(100, 100, 300, 300)), ("anchor", FOAM, Box(200, 200, 60, 60)))
    records = all_down(job, hull=50)
    assert refusal(job, records, {"anchor": 15}) == (
        "anchor cannot be hit without hull: hull has had 50 of its 60 s; another 15 s would be too much"
    )


def test_a_piece_that_is_not_down_may_not_be_half_pressed_by_an_extra_hit() -> None:
    light = replace(TWILL, key="light", pressures=(Pressure.LIGHT,))
    job = a_job(("hull", light, Box(100, 100, 300, 300)), ("anchor", FOAM, Box(200, 200, 60, 60)))
    records = all_down(job)
    records["hull"] = replace(records["hull"], counted_s=(10,))
    assert refusal(job, records, {"anchor": 15}) == (
        "anchor cannot be hit without touching hull, which is not down yet"
    )


def test_two_lifted_pieces_of_different_settings_can_be_in_each_others_way() -> None:
    light = replace(TWILL, key="light", pressures=(Pressure.LIGHT,))
    job = a_job(("hull", light, Box(100, 100, 300, 300)), ("anchor", FOAM, Box(200, 200, 60, 60)))
    assert refusal(job, all_down(job), {"anchor": 15, "hull": 20}).startswith(
        "hull cannot be hit without touching anchor, which is not down either"
    )


def test_a_neighbour_that_bears_less_heat_is_in_the_way() -> None:
    tender = replace(TWILL, key="tender", lowest_c=130, set_c=135, hottest_c=140)
    job = a_job(("hull", tender, Box(100, 100, 300, 300)), ("anchor", FOAM, Box(200, 200, 60, 60)))
    assert refusal(job, all_down(job), {"anchor": 15}) == (
        "anchor wants at least 145 °C; hull, under the same platen, bears 140 °C"
    )


def test_metal_all_around_is_in_the_way() -> None:
    zips = (
        Zone(ZoneKind.KEEP_OUT, Box(100, 0, 20, 700), "left zip"),
        Zone(ZoneKind.KEEP_OUT, Box(400, 0, 20, 700), "right zip"),
    )
    job = a_job(("anchor", FOAM, Box(200, 200, 60, 60)), side=replace(BACK, zones=zips))
    assert refusal(job, all_down(job), {"anchor": 15}) == (
        "the platen cannot hold anchor without coming down on left zip and right zip"
    )


def test_a_piece_that_is_not_laid_cannot_have_an_extra_hit() -> None:
    assert refusal(JOB, untouched(JOB), {"anchor": 15}) == "not laid yet, so nothing to press again: anchor"
