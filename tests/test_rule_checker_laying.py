"""The judge judged, on rules 1 to 3: what may lie on what, base first, clear carriers."""

from dataclasses import replace
from typing import Any

from models.geometry import Box
from models.job.job import Job, Material, Peel
from models.plan.plan import Hit, PeelStep
from tests.rule_checker import broken_rules
from tests.sample_jobs import (
    FOAM,
    GLITTER,
    TWILL,
)
from tests.small_plans import a_hit, a_job, a_plan, assert_caught, assert_only_caught, lay_badge, peels

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
