"""The judge judged: for each rule a sound plan passes, and the plan with that one rule broken is caught."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import pytest

from models.geometry import Box, Outline, Polygon
from models.job.job import Job, Material, Peel, Piece, Pressure, Side, Zone, ZoneKind
from models.planning.plan import Hit, PeelStep, Plan, PlanStatus, Totals
from tests.pressed_garment import Garment
from tests.rule_checker import broken_rules, broken_rules_of_extra
from tests.sample_jobs import (
    BACK,
    FOAM,
    GLITTER,
    PRESS,
    TWILL,
    box_piece,
    crew_vest_job,
    crew_vest_plan,
    job_of,
)

PLAIN_BACK = replace(BACK, zones=())
PLATEN = Box(80, 70, 400, 500)
NEXT_TO_NOTHING = Box(80, -300, 400, 500)


def a_hit(n: int = 1, **fields: Any) -> Hit:
    """A hit at the twill's setting on the middle of the back, with nothing in its lists."""
    hit = Hit(
        n=n,
        side="back",
        platen=PLATEN,
        temperature_c=149,
        pressure=Pressure.MEDIUM,
        dwell_s=20,
        lay=(),
        count=(),
        touch_again=(),
        cover=False,
        pad=False,
        peel=(),
        why=("It is wanted.",),
    )
    return replace(hit, **fields)


def a_plan(*hits: Hit, reheats: int = 0, **fields: Any) -> Plan:
    """A feasible plan of hits that share one setting and one side."""
    totals = Totals(len(hits), 0, 0, sum(hit.dwell_s for hit in hits), reheats)
    return replace(Plan(PlanStatus.FEASIBLE, 1, hits, totals), **fields)


def a_job(*pieces: tuple[str, Material, Box], side: Side = PLAIN_BACK, **changes: Any) -> Job:
    """A job on a back without seams."""
    made = [box_piece(name, material, box) for name, material, box in pieces]
    materials = {material.key: material for _, material, _ in pieces}
    return job_of(made, tuple(materials.values()), sides=(side,), **changes)


def twill_alone(**changes: Any) -> Job:
    return a_job(("badge", TWILL, Box(200, 200, 100, 60)), **changes)


def lay_badge(**fields: Any) -> Hit:
    return a_hit(**{"lay": ("badge",), "count": ("badge",), **fields})


def peels(piece: str, when: Peel) -> tuple[PeelStep, ...]:
    return (PeelStep(piece, when),)


def assert_caught(job: Job, plan: Plan, *words: str) -> None:
    """One sentence at least holds all the words."""
    broken = broken_rules(job, plan)
    assert any(all(word in sentence for word in words) for sentence in broken), broken


def assert_only_caught(job: Job, plan: Plan, *words: str) -> None:
    """Exactly one sentence, and it holds all the words."""
    broken = broken_rules(job, plan)
    assert len(broken) == 1, broken
    assert all(word in broken[0] for word in words), broken


def test_the_sample_plan_breaks_no_rule() -> None:
    assert broken_rules(crew_vest_job(), crew_vest_plan()) == []


def test_one_piece_pressed_once_breaks_no_rule() -> None:
    assert broken_rules(twill_alone(), a_plan(lay_badge())) == []


# ---- rules 1 and 2: what lies on what

GLITTER_ON_FOAM = (("anchor", FOAM, Box(200, 200, 80, 80)), ("wave", GLITTER, Box(220, 220, 30, 30)))


def foam_then_glitter() -> tuple[Hit, Hit]:
    return (
        a_hit(1, dwell_s=15, lay=("anchor",), count=("anchor",), peel=peels("anchor", Peel.COLD)),
        a_hit(
            2,
            dwell_s=10,
            lay=("wave",),
            count=("wave",),
            touch_again=("anchor",),
            peel=peels("wave", Peel.HOT),
        ),
    )


def test_glitter_laid_after_its_foam_is_down_breaks_no_rule() -> None:
    assert broken_rules(a_job(*GLITTER_ON_FOAM), a_plan(*foam_then_glitter(), reheats=1)) == []


def test_a_piece_on_a_material_that_takes_it_not_is_caught() -> None:
    foam_that_takes_nothing = replace(FOAM, takes_on_top=frozenset())
    job = a_job(("anchor", foam_that_takes_nothing, Box(200, 200, 80, 80)), GLITTER_ON_FOAM[1])
    assert_only_caught(job, a_plan(*foam_then_glitter(), reheats=1), "rule 1", "wave", "anchor")


def test_a_piece_laid_together_with_its_base_is_caught() -> None:
    both = a_hit(
        dwell_s=15,
        lay=("anchor", "wave"),
        count=("anchor", "wave"),
        peel=(PeelStep("wave", Peel.HOT), PeelStep("anchor", Peel.COLD)),
    )
    assert_caught(a_job(*GLITTER_ON_FOAM), a_plan(both), "hit 1", "rule 2", "wave", "anchor")


def test_a_piece_laid_on_a_base_that_is_not_down_yet_is_caught() -> None:
    early, late = foam_then_glitter()
    too_short = replace(early, dwell_s=10, peel=())
    assert_caught(a_job(*GLITTER_ON_FOAM), a_plan(too_short, late), "hit 2", "rule 2", "wave", "anchor")


# ---- rule 3: carriers

SIDE_BY_SIDE = Box(200, 200, 60, 60), Box(263, 200, 60, 60)  # 3 mm apart, carriers stand out 6 mm


def foam_beside(neighbour: Material) -> Job:
    return a_job(("anchor", FOAM, SIDE_BY_SIDE[0]), ("badge", neighbour, SIDE_BY_SIDE[1]))


def anchor_hit(n: int, **fields: Any) -> Hit:
    peel = peels("anchor", Peel.COLD)
    return a_hit(n, **{"dwell_s": 15, "lay": ("anchor",), "count": ("anchor",), "peel": peel, **fields})


def test_a_carrier_may_lie_on_a_piece_that_is_down_and_safe() -> None:
    hits = (lay_badge(n=1), anchor_hit(2, touch_again=("badge",)))
    assert broken_rules(foam_beside(TWILL), a_plan(*hits, reheats=1)) == []


def test_a_piece_laid_under_anothers_carrier_is_caught() -> None:
    both = anchor_hit(
        1,
        lay=("anchor", "badge"),
        count=("anchor", "badge"),
        dwell_s=20,
    )
    assert_caught(foam_beside(TWILL), a_plan(both), "hit 1", "rule 3", "(a) badge", "anchor")


def test_a_carrier_laid_on_a_piece_that_is_not_down_is_caught() -> None:
    first = lay_badge(n=1, dwell_s=5)
    second = anchor_hit(2, count=("anchor", "badge"))
    assert_only_caught(foam_beside(TWILL), a_plan(first, second), "hit 2", "rule 3", "(b)", "anchor", "badge")


def test_a_carrier_laid_on_a_piece_that_takes_no_carrier_is_caught() -> None:
    unsafe = replace(TWILL, carrier_safe=False)
    hits = (lay_badge(n=1), anchor_hit(2, touch_again=("badge",)))
    plan = a_plan(*hits, reheats=1)
    assert_only_caught(foam_beside(unsafe), plan, "hit 2", "rule 3", "(c)", "anchor", "badge")


def test_a_stacked_pieces_carrier_may_lie_on_its_own_base() -> None:
    base = replace(FOAM, carrier_safe=False)
    job = a_job(("anchor", base, Box(200, 200, 80, 80)), GLITTER_ON_FOAM[1])
    assert broken_rules(job, a_plan(*foam_then_glitter(), reheats=1)) == []


def test_a_carrier_is_gone_after_the_hit_that_brings_its_piece_down() -> None:
    hits = (anchor_hit(1), lay_badge(n=2, touch_again=("anchor",)))
    assert broken_rules(foam_beside(TWILL), a_plan(*hits, reheats=1)) == []


# ---- rule 4: heat


def test_a_hit_hotter_than_the_fabric_bears_is_caught() -> None:
    scorching = replace(TWILL, hottest_c=170)
    job = a_job(("badge", scorching, Box(200, 200, 100, 60)))
    assert_only_caught(job, a_plan(lay_badge(temperature_c=165)), "hit 1", "rule 4", "quilted polyamide")


def test_a_hit_hotter_than_a_touched_piece_bears_is_caught() -> None:
    hot = replace(TWILL, key="patch", lowest_c=156, hottest_c=160)
    job = a_job(("badge", TWILL, Box(200, 200, 100, 60)), ("patch", hot, Box(200, 300, 100, 60)))
    first = lay_badge()
    second = a_hit(2, temperature_c=158, lay=("patch",), count=("patch",), touch_again=("badge",))
    plan = a_plan(first, second, totals=Totals(2, 1, 0, 40, 1))
    assert_only_caught(job, plan, "hit 2", "rule 4", "badge")


def test_a_setting_that_the_press_has_not_is_caught() -> None:
    cool_press = replace(PRESS, hottest_c=140)
    assert_only_caught(twill_alone(press=cool_press), a_plan(lay_badge()), "hit 1", "rule 4", "cannot be set")


# ---- rule 5: halves


def test_a_piece_half_under_the_platen_is_caught() -> None:
    across = lay_badge(platen=Box(250, 70, 400, 500), count=())
    assert_caught(twill_alone(), a_plan(across), "hit 1", "rule 5", "badge")


def test_a_piece_touched_at_a_setting_it_does_not_take_is_caught() -> None:
    light = lay_badge(pressure=Pressure.LIGHT, count=())
    assert_caught(twill_alone(), a_plan(light), "hit 1", "rule 5", "badge")


def long_banner() -> Job:
    """A banner of 600 × 60 mm: two parts of 300 mm on a platen of 400."""
    wide = replace(PLAIN_BACK, width_mm=800)
    return a_job(("banner", TWILL, Box(100, 200, 600, 60)), side=wide)


def banner_hits() -> tuple[Hit, Hit]:
    return (
        a_hit(1, platen=Box(0, 0, 400, 500), lay=("banner",), count=("banner",)),
        a_hit(2, platen=Box(400, 0, 400, 500), count=("banner",)),
    )


def test_a_piece_of_two_parts_may_be_touched_in_part() -> None:
    assert broken_rules(long_banner(), a_plan(*banner_hits())) == []


def test_a_piece_of_which_one_part_is_never_pressed_is_caught() -> None:
    assert_only_caught(long_banner(), a_plan(banner_hits()[0]), "rule 8", "banner", "not down")


def test_a_turned_piece_of_just_the_platens_size_is_one_part() -> None:
    a_hair_wider = Box(80, 70, 400 + 1e-10, 500)
    job = a_job(("banner", TWILL, a_hair_wider))
    assert broken_rules(job, a_plan(a_hit(lay=("banner",), count=("banner",)))) == []


# ---- rule 6: seconds


def test_a_closing_shorter_than_the_press_can_is_caught() -> None:
    hits = (lay_badge(dwell_s=18), a_hit(2, dwell_s=2, count=("badge",)))
    assert_only_caught(twill_alone(), a_plan(*hits), "hit 2", "rule 6", "shorter")


def test_a_dwell_longer_than_a_touched_piece_bears_is_caught() -> None:
    assert_only_caught(twill_alone(), a_plan(lay_badge(dwell_s=26)), "hit 1", "rule 6", "too long", "badge")


def test_more_seconds_in_all_than_a_piece_bears_are_caught() -> None:
    sensitive = replace(TWILL, total_s=39)
    job = a_job(("badge", sensitive, Box(200, 200, 100, 60)))
    hits = (lay_badge(), a_hit(2, touch_again=("badge",)))
    assert_only_caught(job, a_plan(*hits, reheats=1), "hit 2", "rule 6", "40 s in all", "badge")


def test_seconds_on_the_bare_fabric_before_a_piece_is_laid_do_not_heat_it() -> None:
    short = replace(GLITTER, total_s=10, carrier=False, peel=Peel.NONE)
    job = a_job(("badge", TWILL, Box(200, 200, 100, 60)), ("wave", short, Box(200, 300, 100, 30)))
    hits = (lay_badge(), a_hit(2, dwell_s=10, lay=("wave",), count=("wave",), touch_again=("badge",)))
    assert broken_rules(job, a_plan(*hits, reheats=1)) == []


# ---- rule 7: metal


def test_a_platen_beside_the_zip_breaks_no_rule() -> None:
    beside = replace(BACK, zones=(Zone(ZoneKind.KEEP_OUT, Box(480, 0, 20, 700), "zip"),))
    assert broken_rules(twill_alone(side=beside), a_plan(lay_badge())) == []


def test_a_platen_on_the_zip_is_caught() -> None:
    under = replace(BACK, zones=(Zone(ZoneKind.KEEP_OUT, Box(479, 0, 20, 700), "zip"),))
    assert_only_caught(twill_alone(side=under), a_plan(lay_badge()), "hit 1", "rule 7", "zip")


# ---- rule 8: laid once, down, finished


def test_a_piece_that_is_never_laid_is_caught() -> None:
    assert_only_caught(twill_alone(), a_plan(lower_bound=0), "rule 8", "badge", "never laid")


def test_a_piece_laid_twice_is_caught() -> None:
    hits = (lay_badge(n=1), lay_badge(n=2, count=(), touch_again=("badge",)))
    assert_only_caught(twill_alone(), a_plan(*hits, reheats=1), "hit 2", "rule 8", "badge", "second time")


def test_a_piece_laid_for_a_hit_beside_it_is_caught() -> None:
    hits = (lay_badge(platen=NEXT_TO_NOTHING, count=()), a_hit(2, count=("badge",)))
    assert_only_caught(twill_alone(), a_plan(*hits), "hit 1", "rule 8", "badge", "does not touch")


def test_a_piece_laid_for_a_hit_on_another_side_is_caught() -> None:
    job = replace(twill_alone(), sides=(PLAIN_BACK, replace(PLAIN_BACK, name="front")))
    hits = (lay_badge(side="front", count=()), a_hit(2, count=("badge",)))
    plan = a_plan(*hits, totals=Totals(2, 0, 1, 40, 0))
    assert_only_caught(job, plan, "hit 1", "rule 8", "badge", "does not touch")


def test_a_piece_short_of_its_seconds_is_caught() -> None:
    assert_only_caught(twill_alone(), a_plan(lay_badge(dwell_s=19)), "rule 8", "badge", "not down")


def test_an_outline_that_crosses_itself_is_caught() -> None:
    bow = Polygon(((200, 200), (300, 260), (300, 200), (200, 260)))
    job = replace(twill_alone(), pieces=(Piece("badge", "badge", "back", TWILL.key, Outline((bow,))),))
    assert_only_caught(job, a_plan(lay_badge()), "rule 8", "badge", "crosses itself")


FINISHING = replace(TWILL, finish_s=5)


def twice_pressed() -> Job:
    return a_job(("badge", FINISHING, Box(200, 200, 100, 60)))


def test_a_second_press_under_a_cover_finishes_a_piece() -> None:
    hits = (lay_badge(), a_hit(2, dwell_s=5, count=("badge",), cover=True))
    assert broken_rules(twice_pressed(), a_plan(*hits)) == []


def test_a_piece_without_its_second_press_is_caught() -> None:
    assert_only_caught(twice_pressed(), a_plan(lay_badge()), "rule 8", "badge", "second press")


def test_a_second_press_that_is_too_short_is_caught() -> None:
    hits = (lay_badge(), a_hit(2, dwell_s=4))
    assert_only_caught(twice_pressed(), a_plan(*hits), "rule 8", "badge", "second press")


def test_both_parts_of_a_long_piece_want_their_second_press() -> None:
    job = replace(long_banner(), materials=(FINISHING,))
    first, second = banner_hits()
    third = replace(first, n=3, lay=(), cover=True)
    fourth = replace(second, n=4, cover=True)
    assert_only_caught(job, a_plan(first, second, third), "rule 8", "banner", "second press")
    assert broken_rules(job, a_plan(first, second, third, fourth)) == []


# ---- rule 9: cover and pad

GUARDED = replace(TWILL, key="guarded-twill", guard=True)


def guarded_and_late() -> Job:
    return a_job(("badge", GUARDED, Box(200, 200, 100, 60)), ("patch", TWILL, Box(200, 300, 100, 60)))


def patch_hit(*, cover: bool) -> Hit:
    return a_hit(2, lay=("patch",), count=("patch",), touch_again=("badge",), cover=cover)


def test_a_guarded_piece_heated_again_lies_under_a_cover() -> None:
    plan = a_plan(lay_badge(), patch_hit(cover=True), reheats=1)
    assert broken_rules(guarded_and_late(), plan) == []


def test_a_guarded_piece_heated_again_without_a_cover_is_caught() -> None:
    plan = a_plan(lay_badge(), patch_hit(cover=False), reheats=1)
    assert_only_caught(guarded_and_late(), plan, "hit 2", "rule 9", "badge", "missing")


def test_a_material_that_wants_a_cover_from_the_first_is_caught_without() -> None:
    job = a_job(("badge", replace(TWILL, cover=True), Box(200, 200, 100, 60)))
    assert_only_caught(job, a_plan(lay_badge()), "hit 1", "rule 9", "badge", "missing")
    assert broken_rules(job, a_plan(lay_badge(cover=True))) == []


def test_a_cover_that_nothing_wants_is_caught() -> None:
    assert_only_caught(twill_alone(), a_plan(lay_badge(cover=True)), "hit 1", "rule 9", "no piece wants")


def test_a_missing_pad_over_a_seam_is_caught() -> None:
    assert_only_caught(twill_alone(side=BACK), a_plan(lay_badge()), "hit 1", "rule 9", "yoke seam")
    assert broken_rules(twill_alone(side=BACK), a_plan(lay_badge(pad=True))) == []


def test_a_pad_where_nothing_is_raised_is_caught() -> None:
    assert_only_caught(twill_alone(), a_plan(lay_badge(pad=True)), "hit 1", "rule 9", "raised")


# ---- rule 10: the platen


def test_a_platen_off_whole_mm_is_caught() -> None:
    askew = lay_badge(platen=Box(80.5, 70, 400, 500))
    assert_only_caught(twill_alone(), a_plan(askew), "hit 1", "rule 10", "whole mm")


def test_a_platen_of_another_size_is_caught() -> None:
    turned = lay_badge(platen=Box(80, 70, 500, 400))
    assert_only_caught(twill_alone(), a_plan(turned), "hit 1", "rule 10", "press's platen")


def test_a_platen_may_overhang_the_side() -> None:
    assert broken_rules(twill_alone(), a_plan(lay_badge(platen=Box(-100, -200, 400, 500)))) == []


# ---- what the plan says of itself


@pytest.mark.parametrize(
    ("place", "changes", "words"),
    [
        (0, {"n": 2}, ("numbered",)),
        (0, {"count": ("life-ring", "anchor")}, ("hit 1", "wave", "count")),
        (1, {"count": ("life-ring", "anchor")}, ("hit 2", "anchor", "count")),
        (1, {"count": ("life-ring", "life-ring")}, ("hit 2", "twice in count")),
        (1, {"touch_again": ("anchor",)}, ("hit 2", "touch_again", "wave")),
        (1, {"touch_again": ("anchor", "wave", "life-ring")}, ("hit 2", "touch_again", "life-ring")),
        (0, {"peel": peels("wave", Peel.HOT)}, ("hit 1", "to peel", "anchor")),
        (1, {"peel": peels("wave", Peel.HOT)}, ("hit 2", "to peel", "wave")),
        (0, {"peel": (PeelStep("anchor", Peel.COLD), PeelStep("wave", Peel.HOT))}, ("hit 1", "order")),
        (0, {"peel": (PeelStep("wave", Peel.HOT), PeelStep("anchor", Peel.WARM))}, ("hit 1", "anchor warm")),
        (0, {"why": ()}, ("hit 1", "why")),
        (0, {"lay": ("life-ring", "anchor", "buoy")}, ("hit 1", "buoy", "does not have")),
        (0, {"side": "hood"}, ("hit 1", "hood", "does not have")),
    ],
)
def test_a_list_that_says_something_else_than_what_happens_is_caught(
    place: int, changes: dict[str, Any], words: Sequence[str]
) -> None:
    plan = crew_vest_plan()
    hits = [replace(hit, **changes) if k == place else hit for k, hit in enumerate(plan.hits)]
    assert_caught(crew_vest_job(), replace(plan, hits=tuple(hits)), *words)


@pytest.mark.parametrize("name", ["hits", "temperature_changes", "side_changes", "dwell_s", "reheats"])
def test_a_total_that_is_off_by_one_is_caught(name: str) -> None:
    plan = crew_vest_plan()
    off = replace(plan.totals, **{name: getattr(plan.totals, name) + 1})
    assert_only_caught(crew_vest_job(), replace(plan, totals=off), "totals")


def test_a_lower_bound_above_the_hits_is_caught() -> None:
    plan = replace(crew_vest_plan(), status=PlanStatus.FEASIBLE, lower_bound=3)
    assert_only_caught(crew_vest_job(), plan, "lower bound 3")


def test_an_optimal_plan_whose_bound_lies_below_its_hits_is_caught() -> None:
    assert_only_caught(crew_vest_job(), replace(crew_vest_plan(), lower_bound=1), "optimal")


# ---- extra hits


class ARecord:
    """A piece that is down, or was opened early after `counted_s`; a number for each part."""

    def __init__(self, *counted_s: int, heated_s: int = 20) -> None:
        self.laid = True
        self.needed_s = 20
        self.counted_s = counted_s or (20,)
        self.heated_s = tuple(heated_s for _ in self.counted_s)
        self.finish_due_s = tuple(0 for _ in self.counted_s)
        self.lifted = False


def pressed_badge(*counted_s: int) -> Garment:
    garment = Garment(twill_alone())
    garment.take_over({"badge": ARecord(*counted_s)}, frozenset())
    return garment


def judge_extra(*extra: Hit, rest: Sequence[Hit] = (), again_s: int = 20) -> list[str]:
    return broken_rules_of_extra(pressed_badge(), extra, rest, lifted_s={"badge": again_s})


COUNTED = a_hit(count=("badge",))


def test_an_extra_hit_that_gives_a_lifted_piece_its_seconds_breaks_no_rule() -> None:
    assert judge_extra(COUNTED) == []


def test_an_extra_hit_that_gives_too_few_seconds_is_caught() -> None:
    assert "the extra hits leave badge short of its seconds" in judge_extra(replace(COUNTED, dwell_s=19))


def test_fewer_seconds_are_enough_where_fewer_are_asked_for() -> None:
    assert judge_extra(replace(COUNTED, dwell_s=12), again_s=12) == []


def test_an_extra_hit_that_leaves_too_few_seconds_for_those_ahead_is_caught() -> None:
    broken = judge_extra(COUNTED, rest=(a_hit(2, touch_again=("badge",), dwell_s=21),))
    assert "hit 2 breaks rule 6: badge has then been heated for 61 s in all, which is too long" in broken


def test_an_extra_hit_that_lays_a_piece_a_second_time_is_caught() -> None:
    broken = judge_extra(a_hit(lay=("badge",), count=("badge",)))
    assert broken == ["hit 1 breaks rule 8: badge is laid a second time"]


def test_a_replaced_piece_that_is_not_laid_again_is_caught() -> None:
    broken = broken_rules_of_extra(pressed_badge(), (COUNTED,), (), replaced=("badge",))
    assert "the plan breaks rule 8: badge is never laid" in broken


def test_a_replaced_piece_bears_its_whole_total_again() -> None:
    garment = pressed_badge()
    garment.heated_s["badge"] = [60]
    lays = a_hit(lay=("badge",), count=("badge",))
    assert broken_rules_of_extra(garment, (lays,), (), replaced=("badge",)) == []


def test_seconds_that_an_early_opening_left_out_have_to_be_given() -> None:
    short = {"badge": (8,)}
    assert broken_rules_of_extra(pressed_badge(12), (replace(COUNTED, dwell_s=8),), (), short_s=short) == []
    assert broken_rules_of_extra(pressed_badge(12), (replace(COUNTED, dwell_s=7),), (), short_s=short) != []


def test_what_the_rest_leaves_half_done_is_caught() -> None:
    broken = broken_rules_of_extra(pressed_badge(12), (), ())
    assert broken == ["the plan breaks rule 8: badge is not down after the rest"]
