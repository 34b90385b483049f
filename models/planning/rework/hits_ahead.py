"""What becomes of the hits ahead of a garment on which something went wrong."""

from collections.abc import Collection, Iterator, Sequence

from models.errors import NoExtraHitError
from models.job.job import Job
from models.plan.plan import Hit
from models.planning.assembly.at_press import as_ordered
from models.planning.hits.effects import touched_pieces, with_effects
from models.planning.hits.piece_record import Records
from models.planning.rework.incident import Pressed


def plan_rest(
    job: Job, records: Records, peeled: Collection[str], ahead: Sequence[Hit]
) -> tuple[Hit, ...] | None:
    """The hits in place of those `ahead` where a piece no longer bears them; None where it bears them all.

    Raises NoExtraHitError, with the piece and its seconds, where no other hits do either.
    """
    now = Pressed(job, records, frozenset(peeled))
    too_much = list(_too_much(now, ahead))
    if not too_much:
        return None
    from models.planning.rework.replan import planned_anew  # noqa: PLC0415 - loads a geometry library

    anew = planned_anew(now, ahead, {hit.side for hit, _ in too_much}, {})
    if anew is None:
        raise NoExtraHitError(too_much[0][1])
    return anew.rest


def rest_after(now: Pressed, hits: Sequence[Hit], ahead: Sequence[Hit]) -> tuple[Hit, ...] | None:
    """The hits ahead with what they really will do, without those that have nothing left to do.

    None where all of them stay as frozen.
    """
    told: list[Hit] = []
    for hit in hits:
        now = now.after(hit)
    for frozen in ahead:
        ordered = as_ordered(frozen, now.job, now.records)
        hit = with_effects(ordered, now.job, now.records, now.peeled)
        if hit.count:
            told.append(hit)
            now = now.after(hit)
    return None if told == list(ahead) else tuple(told)


def _too_much(now: Pressed, ahead: Sequence[Hit]) -> Iterator[tuple[Hit, str]]:
    """The hits ahead that some piece does not bear, each with the piece and its seconds."""
    for hit in ahead:
        now = now.after(hit)
        for piece in touched_pieces(hit, now.job, now.records):
            heated_s, total_s = max(now.records[piece.id].heated_s), now.job.material_of(piece.id).total_s
            if heated_s > total_s:
                had = f"{piece.label} has had {heated_s - hit.dwell_s} of its {total_s} s by then"
                yield hit, f"{had}; {hit.dwell_s} s of a hit ahead would be too much"
