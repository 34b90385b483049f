"""Extra hits that the independent judge has found sound, and garments to try them on."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace

from models.job.job import Job
from models.plan.plan import Hit
from models.planning.hits.piece_record import PieceRecord, untouched
from models.planning.rework.incident import Mending, Trouble
from models.planning.rework.plan_rework import plan_extra_hits
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
    job: Job,
    records: Records,
    peeled: Collection[str],
    ahead: Sequence[Hit],
    trouble: Trouble,
    *,
    last: Hit | None = None,
) -> tuple[Hit, ...]:
    """The extra hits for records before the trouble; the independent judge finds no fault in them."""
    return judged_mending(job, records, peeled, ahead, trouble, last=last).hits


def judged_mending(
    job: Job,
    records: Records,
    peeled: Collection[str],
    ahead: Sequence[Hit],
    trouble: Trouble,
    *,
    last: Hit | None = None,
) -> Mending:
    """As `judged`, with what becomes of the hits ahead, judged with them."""
    mending = plan_extra_hits(job, records, peeled, ahead, trouble, last=last)
    rest = ahead if mending.rest is None else mending.rest
    garment = Garment(job)
    garment.take_over(records, frozenset(peeled))
    broken = broken_rules_of_extra(
        garment,
        mending.hits,
        rest,
        lifted_s=trouble.lifted_s,
        replaced=trouble.replaced,
        short_s=trouble.short_s,
    )
    assert broken == []
    return mending


def lifted(pieces_s: Mapping[str, int] | None = None, **more_s: int) -> Trouble:
    """These pieces lifted, and want so many seconds again."""
    return Trouble(lifted_s={**(pieces_s or {}), **more_s})


def short(**seconds: tuple[int, ...]) -> Trouble:
    """These pieces were opened early, and are so many seconds short, part by part."""
    return Trouble(short_s=seconds)
