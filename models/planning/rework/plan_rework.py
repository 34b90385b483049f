"""Extra hits: for pieces that lifted or are new, and for the seconds that an early opening left out."""

from collections.abc import Collection, Sequence
from dataclasses import replace

from models.errors import NoExtraHitError
from models.job.job import Job, Piece, Side
from models.plan.plan import Hit
from models.planning.hits.coverage import counted_parts
from models.planning.hits.effects import with_effects
from models.planning.hits.piece_record import PieceRecord, Records
from models.planning.rework.cells import cells_of
from models.planning.rework.hits_ahead import rest_after
from models.planning.rework.incident import Mending, Needs, Pressed, Trouble, missing_s
from models.planning.rework.order import with_fewest_changes
from models.planning.rework.problem import Board
from models.planning.rework.reasons import reasons, told, why_none
from models.planning.rework.search import fewest_closings
from models.text import in_a_row


def plan_extra_hits(
    job: Job,
    records: Records,
    peeled: Collection[str],
    ahead: Sequence[Hit],
    trouble: Trouble,
    *,
    last: Hit | None = None,
) -> Mending:
    """The fewest extra hits, numbered from 1, that mend `trouble`; of the rest, only what must change.

    `records` and `peeled` are those before the trouble is taken into account. The hits `ahead` stay as they
    are where the garment bears them after the extra ones; else their sides are planned anew. The press stands
    as for the hit it made `last`, if that is known.

    Raises NoExtraHitError, with the limit that is in the way, where the rules leave no such hits.
    """
    before = Pressed(job, records, frozenset(peeled))
    _refuse_what_cannot_be(before, trouble)
    now = before.after_trouble(trouble)
    needs = _needs(before, now, ahead, trouble)
    try:
        hits, are_fewest = _beside(now, ahead, needs, last)
    except NoExtraHitError:
        anew = _planned_anew(now, ahead, needs)
        if anew is None:
            raise
        return told(anew)
    return told(Mending(hits, rest_after(now, hits, ahead), are_fewest))


def seconds_short(job: Job, records: Records, hit: Hit, ahead: Sequence[Hit]) -> dict[str, tuple[int, ...]]:
    """Seconds, by piece and part, that are missing after `hit` and that the hits ahead will not give in time.

    A piece that the plan brings down in `hit` must be down now. One that comes down later is short only of
    what the rest of the plan will not give. One whose second press was cut short wants it whole.
    """
    due_now = {step.piece for step in hit.peel}
    short = {
        piece.id: _short_s(job, piece, records[piece.id], ahead, is_due=piece.id in due_now)
        for piece in job.pieces
        if records[piece.id].laid
    }
    return {piece: seconds for piece, seconds in short.items() if any(seconds)}


def _refuse_what_cannot_be(now: Pressed, trouble: Trouble) -> None:
    unlaid = [piece for piece in sorted(trouble.pieces) if not now.records[piece].laid]
    if unlaid:
        labels = in_a_row(now.job.piece(piece).label for piece in unlaid)
        raise NoExtraHitError(f"not laid yet, so nothing to press again: {labels}")
    if trouble.replaced:
        from models.planning.rework.laying import refuse_covered  # noqa: PLC0415 - loads a geometry library

        refuse_covered(now, trouble.replaced)


def _needs(before: Pressed, now: Pressed, ahead: Sequence[Hit], trouble: Trouble) -> Needs:
    """What each part wants of the extra hits: what is short, all that a new piece misses, and the lifts."""
    needs = dict(trouble.short_s)
    for piece in trouble.lifted_s:
        needs[piece] = _missing_after_lift(before, now, ahead, piece)
    needs.update({piece: missing_s(now.records[piece]) for piece in trouble.replaced})
    if not any(any(seconds) for seconds in needs.values()):
        labels = in_a_row(now.job.piece(piece).label for piece in needs)
        raise NoExtraHitError(f"the hits ahead give these their seconds anyway: {labels}")
    return needs


def _missing_after_lift(before: Pressed, now: Pressed, ahead: Sequence[Hit], piece: str) -> tuple[int, ...]:
    """All its seconds for a piece that was down; another one still gets those of the hits ahead."""
    record = now.records[piece]
    if before.records[piece].down:
        return missing_s(record)
    return _short_s(now.job, now.job.piece(piece), record, ahead, is_due=False)


def _planned_anew(now: Pressed, ahead: Sequence[Hit], needs: Needs) -> Mending | None:
    """Extra hits and rest as one, on the sides of the trouble; None where that is of no use."""
    sides = {now.job.piece(piece).side for piece in needs}
    if sides.isdisjoint(hit.side for hit in ahead):
        return None
    from models.planning.rework.replan import planned_anew  # noqa: PLC0415 - loads a geometry library

    return planned_anew(now, ahead, sides, needs)


def _beside(
    now: Pressed, ahead: Sequence[Hit], needs: Needs, last: Hit | None
) -> tuple[tuple[Hit, ...], bool]:
    """The extra hits beside those ahead, side by side, and whether they are proved the fewest.

    Raises NoExtraHitError with what is in the way.
    """
    hits: list[Hit] = []
    before = [] if last is None else [last]
    are_fewest = True
    for side in _sides_of(now.job, needs, ahead, last):
        board = _board_of(now, side, ahead, needs)
        answer = fewest_closings(tuple(board.places), board.terms, board.start)
        if answer.closings is None:
            raise NoExtraHitError(why_none(board, is_proved=answer.is_proved))
        are_fewest = are_fewest and answer.is_proved
        for bare in with_fewest_changes(board, answer.closings, hits[-1:] or before, ahead[:1]):
            hits.append(_written(now, replace(bare, n=len(hits) + 1), needs))
            now = now.after(hits[-1])
    return tuple(hits), are_fewest


def _board_of(now: Pressed, side: Side, ahead: Sequence[Hit], needs: Needs) -> Board:
    cells = cells_of(now.job, side, now.records, ahead, needs)
    board = Board(now.job, side, cells)
    if not board.start.unlaid:
        return board
    from models.planning.rework.laying import laying_of  # noqa: PLC0415 - loads a geometry library

    return replace(board, laying=laying_of(now, board.pieces))


def _written(now: Pressed, bare: Hit, needs: Needs) -> Hit:
    """The hit with its lists."""
    hit = with_effects(bare, now.job, now.records, now.peeled)
    return replace(hit, why=reasons(hit, now, needs))


def _sides_of(job: Job, needs: Needs, ahead: Sequence[Hit], last: Hit | None) -> list[Side]:
    """The sides where something is wanted: first the one under the press, last that of the next hit."""
    wanted = {job.piece(piece).side for piece, seconds in needs.items() if any(seconds)}
    sides = [side for side in job.sides if side.name in wanted]
    was_last = last.side if last else ""
    return sorted(sides, key=lambda s: (any(hit.side == s.name for hit in ahead[:1]), s.name != was_last))


def _short_s(
    job: Job, piece: Piece, record: PieceRecord, ahead: Sequence[Hit], *, is_due: bool
) -> tuple[int, ...]:
    """What each part is short of; one that `is_due` gets nothing from the hits ahead until it is down."""
    counting = [hit for hit in ahead if piece.id in hit.count]
    short = []
    for k in range(len(record.counted_s)):
        pressing, second = _split(record, k, [hit for hit in counting if counted_parts(hit, piece, job)[k]])
        if record.down:
            short.append(0 if second else record.finish_due_s[k])
        else:
            given = 0 if is_due else sum(hit.dwell_s for hit in pressing)
            short.append(max(0, record.needed_s - record.counted_s[k] - given))
    return tuple(short)


def _split(record: PieceRecord, k: int, counting: list[Hit]) -> tuple[list[Hit], list[Hit]]:
    """The hits that count for part `k`: those towards its seconds, and its second press, the last one."""
    if not record.finish_due_s[k] or not counting or counting[-1].dwell_s < record.finish_due_s[k]:
        return counting, []
    return counting[:-1], counting[-1:]
