"""Extra hits that the independent judge has found sound, and garments to try them on."""

from collections.abc import Mapping
from dataclasses import replace

from models.job.job import Job
from models.planning.extra_hit import plan_extra_hits
from models.planning.piece_record import PieceRecord, untouched
from models.planning.plan import Hit
from tests.pressed_garment import Garment
from tests.rule_checker import broken_rules_of_extra

Records = Mapping[str, PieceRecord]


def all_down(job: Job, **heated_s: int) -> dict[str, PieceRecord]:
    """Every piece down, and finished, after its least seconds or the heat that is given for it."""
    return {name: _down(job, name, record, heated_s) for name, record in untouched(job).items()}


def _down(job: Job, name: str, record: PieceRecord, heated_s: Mapping[str, int]) -> PieceRecord:
    least = job.material_of(name).least_s
    return replace(
        record,
        laid=True,
        counted_s=tuple(least for _ in record.counted_s),
        heated_s=tuple(heated_s.get(name, least) for _ in record.heated_s),
        finish_due_s=tuple(0 for _ in record.finish_due_s),
    )


def judged(
    job: Job, records: Records, peeled: frozenset[str], ahead: tuple[Hit, ...], needs_s: Mapping[str, int]
) -> tuple[Hit, ...]:
    """The extra hits for records in which lifts are noted; the independent judge finds no fault in them."""
    hits = plan_extra_hits(job, records, peeled, ahead, needs_s)
    garment = Garment(job)
    garment.take_over(records, peeled)
    assert broken_rules_of_extra(garment, needs_s, hits, ahead) == []
    return hits
