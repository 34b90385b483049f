"""Extra hits: for pieces that lifted, and for the seconds that an early opening left out."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace

from models.errors import NoExtraHitError
from models.job.job import Job, Piece, Side
from models.planning.extra_board import Board, board_of
from models.planning.extra_search import Answer, fewest_closings
from models.planning.extra_words import reasons, why_none
from models.planning.hit_effects import with_effects
from models.planning.parts import counted_parts
from models.planning.piece_record import PieceRecord, Records, after_hit, after_lift
from models.planning.plan import Hit


def plan_extra_hits(
    job: Job,
    records: Records,
    peeled: Collection[str],
    ahead: Sequence[Hit],
    needs_s: Mapping[str, int],
) -> tuple[Hit, ...]:
    """The fewest hits, numbered from 1, that give each named piece its seconds and lay nothing new.

    A piece that is down has lifted, and every part of it gets its `needs_s` anew, unless they are the second
    press that it still wants. Of one that is not down, a part gets as many as it misses. What the hits
    `ahead` will add counts towards each piece's total.

    Raises NoExtraHitError, with the limit that is in the way, where the rules leave no such hits.
    """
    _refuse_unlaid(job, records, needs_s)
    now = _with_lifts(records, needs_s)
    hits: list[Hit] = []
    for side in _sides_of(job, needs_s, ahead):
        board = board_of(job, side, now, ahead, needs_s)
        for closing in _closings(board):
            hit = with_effects(board.hit(closing, len(hits) + 1), job, now, peeled)
            hits.append(replace(hit, why=reasons(hit, job, now, needs_s)))
            now = after_hit(now, job, hit, hit.dwell_s)
            peeled = {*peeled, *(step.piece for step in hit.peel)}
    return tuple(hits)


def seconds_short(job: Job, records: Records, hit: Hit, ahead: Sequence[Hit]) -> dict[str, int]:
    """Seconds, by piece, that are missing after `hit` and that the hits ahead will not give in time.

    A piece that the plan brings down in `hit` must be down now. One that comes down later is short only of
    what the rest of the plan will not give. One whose second press was cut short wants it whole.
    """
    due_now = {step.piece for step in hit.peel}
    short = {
        piece.id: _short_s(job, piece, records[piece.id], ahead, is_due=piece.id in due_now)
        for piece in job.pieces
        if records[piece.id].laid
    }
    return {piece: seconds for piece, seconds in short.items() if seconds > 0}


def _refuse_unlaid(job: Job, records: Records, needs_s: Mapping[str, int]) -> None:
    unlaid = [job.piece(piece).label for piece in needs_s if not records[piece].laid]
    if unlaid:
        raise NoExtraHitError(f"not laid yet, so nothing to press again: {', '.join(unlaid)}")


def _with_lifts(records: Records, needs_s: Mapping[str, int]) -> dict[str, PieceRecord]:
    lifted = {piece: need for piece, need in needs_s.items() if _has_lifted(records[piece], need)}
    return after_lift(records, lifted)


def _has_lifted(record: PieceRecord, need_s: int) -> bool:
    """More is asked for than the piece misses, and it is not its second press."""
    return need_s > record.missing_s and not (record.down and need_s in record.finish_due_s)


def _sides_of(job: Job, needs_s: Mapping[str, int], ahead: Sequence[Hit]) -> list[Side]:
    """The sides of the named pieces; the one on which the next hit lies comes last."""
    wanted = {job.piece(piece).side for piece in needs_s}
    sides = [side for side in job.sides if side.name in wanted]
    return sorted(sides, key=lambda side: any(hit.side == side.name for hit in ahead[:1]))


def _closings(board: Board) -> Answer:
    answer = fewest_closings(tuple(board.places), board.wants)
    if answer is None:
        raise NoExtraHitError(why_none(board))
    return answer


def _short_s(job: Job, piece: Piece, record: PieceRecord, ahead: Sequence[Hit], *, is_due: bool) -> int:
    """What the piece is short of; one that `is_due` gets nothing from the hits ahead until it is down."""
    counting = [hit for hit in ahead if piece.id in hit.count]
    short = []
    for k in range(len(record.counted_s)):
        pressing, second = _split(record, k, [hit for hit in counting if counted_parts(hit, piece, job)[k]])
        if record.down:
            short.append(0 if second else record.finish_due_s[k])
        else:
            given = 0 if is_due else sum(hit.dwell_s for hit in pressing)
            short.append(record.needed_s - record.counted_s[k] - given)
    return max(short)


def _split(record: PieceRecord, k: int, counting: list[Hit]) -> tuple[list[Hit], list[Hit]]:
    """The hits that count for part `k`: those towards its seconds, and its second press, the last one."""
    if not record.finish_due_s[k]:
        return counting, []
    return counting[:-1], counting[-1:]
