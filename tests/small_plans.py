"""Small jobs and plans that break one rule, or none, and what the judge has to say of them."""

from dataclasses import replace
from typing import Any

from models.geometry import Box
from models.job.job import Job, Material, Peel, Pressure, Side
from models.plan.plan import Hit, PeelStep, Plan, PlanStatus, Totals
from tests.rule_checker import broken_rules
from tests.sample_jobs import (
    BACK,
    TWILL,
    box_piece,
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


def long_banner() -> Job:
    """A banner of 600 × 60 mm: two parts of 300 mm on a platen of 400."""
    wide = replace(PLAIN_BACK, width_mm=800)
    return a_job(("banner", TWILL, Box(100, 200, 600, 60)), side=wide)


def banner_hits() -> tuple[Hit, Hit]:
    return (
        a_hit(1, platen=Box(0, 0, 400, 500), lay=("banner",), count=("banner",)),
        a_hit(2, platen=Box(400, 0, 400, 500), count=("banner",)),
    )
