"""The crew's vest and small jobs beside it, as they stand when something goes wrong."""

from collections.abc import Mapping
from dataclasses import replace

import pytest

from models.errors import NoExtraHitError
from models.geometry import Box
from models.job.job import Job, Material, Side
from models.plan.plan import Hit
from models.planning.hits.piece_record import PieceRecord, after_hit, untouched
from models.planning.rework.incident import Trouble
from models.planning.rework.plan_rework import plan_extra_hits
from tests.judged_extra_hits import Records, lifted
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


FINISHING = replace(TWILL, finish_s=5)
BADGE = a_job(("badge", FINISHING, Box(200, 200, 100, 60)))
LAY_BADGE = replace(FIRST, platen=Box(50, 0, 400, 500), dwell_s=20, lay=("badge",), count=("badge",), peel=())
FINISH_BADGE = replace(LAY_BADGE, n=2, dwell_s=5, lay=(), cover=True)
BANNER = a_job(("banner", TWILL, Box(50, 200, 780, 60)))
LEFT = replace(LAY_BADGE, platen=Box(40, 0, 400, 500), lay=("banner",), count=("banner",), pad=False)
RIGHT = replace(LEFT, n=2, platen=Box(440, 0, 400, 500), lay=())


def replaced(*pieces: str) -> Trouble:
    return Trouble(replaced=pieces)


UNDER_GLITTER = a_job(("anchor", FOAM, Box(200, 200, 60, 60)), ("wave", GLITTER, Box(210, 210, 20, 20)))
CLASHING = a_job(
    ("anchor", FOAM, Box(200, 200, 60, 60)),
    ("buoy", FOAM, Box(263, 200, 60, 60)),
    ("lamp", FOAM, Box(200, 330, 60, 60)),
)


def refusal(job: Job, records: Records, lifted_s: Mapping[str, int], ahead: tuple[Hit, ...] = ()) -> str:
    with pytest.raises(NoExtraHitError) as caught:
        plan_extra_hits(job, records, PEELED, ahead, lifted(lifted_s))
    return str(caught.value)


def heated(records: Records, **seconds: int) -> dict[str, PieceRecord]:
    """The records with more heat in some one-part pieces."""
    return {
        name: replace(record, heated_s=(seconds.get(name, record.heated_s[0]),))
        for name, record in records.items()
    }
