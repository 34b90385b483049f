"""Extra hits: for pieces that lifted or are new, and for the seconds that an early opening left out."""

from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace
from itertools import islice

from models.errors import NoExtraHitError
from models.job.job import Job, Piece, Side
from models.planning.extra_board import Board, board_of
from models.planning.extra_rest import rest_after
from models.planning.extra_search import Answer, fewest_closings
from models.planning.extra_words import reasons, why_none
from models.planning.hit_effects import touched_pieces, with_effects
from models.planning.in_a_row import in_a_row
from models.planning.parts import counted_parts
from models.planning.piece_record import PieceRecord, Records, after_laying
from models.planning.plan import Hit
from models.planning.trouble import Mending, Needs, Pressed, Trouble, missing_s

MOST_GROUPINGS = 150
"""Ways to group pieces that are laid anew, of those on one side, after which the best so far is taken."""


def plan_extra_hits(
    job: Job, records: Records, peeled: Collection[str], ahead: Sequence[Hit], trouble: Trouble
) -> Mending:
    """The fewest extra hits, numbered from 1, that mend `trouble`; of the rest, only what must change.

    `records` and `peeled` are those before the trouble is taken into account. The hits `ahead` stay as they
    are where the garment bears them after the extra ones; else their sides are planned anew.

    Raises NoExtraHitError, with the limit that is in the way, where the rules leave no such hits.
    """
    before = Pressed(job, records, frozenset(peeled))
    _refuse_what_cannot_be(before, trouble)
    now = before.after_trouble(trouble)
    needs = _needs(before, now, ahead, trouble)
    try:
        hits = _beside(now, ahead, needs, trouble.replaced)
    except NoExtraHitError:
        anew = _planned_anew(now, ahead, needs)
        if anew is None:
            raise
        return anew
    return Mending(hits, rest_after(now, hits, ahead))


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
        from models.planning.extra_laying import refuse_covered  # noqa: PLC0415 - loads a geometry library

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
    from models.planning.extra_replan import planned_anew  # noqa: PLC0415 - loads a geometry library

    return planned_anew(now, ahead, sides, needs)


def _beside(now: Pressed, ahead: Sequence[Hit], needs: Needs, replaced: Sequence[str]) -> tuple[Hit, ...]:
    """The extra hits beside those ahead: first the seconds, then the second press of what is new."""
    hits = _laid_clear(now, ahead, needs, replaced) if replaced else _served(now, ahead, [needs])
    for hit in hits:
        now = now.after(hit)
    second = {
        piece: _short_s(now.job, now.job.piece(piece), now.records[piece], ahead, is_due=False)
        for piece in replaced
    }
    hits += _served(now, ahead, [second]) if any(any(seconds) for seconds in second.values()) else ()
    return tuple(replace(hit, n=n) for n, hit in enumerate(hits, start=1))


def _laid_clear(now: Pressed, ahead: Sequence[Hit], needs: Needs, replaced: Sequence[str]) -> tuple[Hit, ...]:
    """Side by side, the fewest hits with every new piece laid where nothing is in its way."""
    hits: tuple[Hit, ...] = ()
    for side in _sides_of(now.job, needs, ahead):
        here = {piece: s for piece, s in needs.items() if now.job.piece(piece).side == side.name}
        on_side = _laid_in_turn(now, ahead, here, replaced)
        hits += on_side
        for hit in on_side:
            now = now.after(hit)
    return hits


def _laid_in_turn(
    now: Pressed, ahead: Sequence[Hit], needs: Needs, replaced: Sequence[str]
) -> tuple[Hit, ...]:
    """The best of the ways to group what is wanted on one side; a way takes a hit for each group at least."""
    from models.planning.extra_order import groupings  # noqa: PLC0415 - loads a geometry library

    best: tuple[Hit, ...] = ()
    refusals: list[str] = []
    ways = groupings(now.job, list(needs), replaced)
    for groups in islice(ways, MOST_GROUPINGS):
        if best and len(groups) > len(best):
            break
        try:
            hits = _in_groups(now, ahead, needs, groups)
        except NoExtraHitError as error:
            refusals.append(str(error))
        else:
            best = min(best or hits, hits, key=_cost)
    if not best:
        raise NoExtraHitError(_why_not_laid(now, needs, refusals, is_cut=next(ways, None) is not None))
    return best


def _in_groups(
    now: Pressed, ahead: Sequence[Hit], needs: Needs, groups: Iterable[Sequence[str]]
) -> tuple[Hit, ...]:
    """Raises NoExtraHitError where a group has no hits, or where something is in the way of a new piece."""
    from models.planning.extra_laying import laying_fault  # noqa: PLC0415 - loads a geometry library

    hits = _served(now, ahead, [{piece: needs[piece] for piece in group} for group in groups])
    fault = laying_fault(now, hits)
    if fault:
        raise NoExtraHitError(fault)
    return hits


def _cost(hits: Sequence[Hit]) -> tuple[int, int, int]:
    """Fewest hits, then least re-heating of others, then seconds."""
    return len(hits), sum(len(hit.touch_again) for hit in hits), sum(hit.dwell_s for hit in hits)


def _why_not_laid(now: Pressed, needs: Needs, refusals: Sequence[str], *, is_cut: bool) -> str:
    names = in_a_row(now.job.piece(piece).label for piece in needs)
    if not refusals:
        return f"no order of laying frees these of each other: {names}"
    first = refusals[0]
    return (
        f"no way was found to press {names} in turn, of {MOST_GROUPINGS} tried: {first}" if is_cut else first
    )


def _served(now: Pressed, ahead: Sequence[Hit], groups: Sequence[Needs]) -> tuple[Hit, ...]:
    """The hits that give each group its seconds, one group after the other."""
    hits: list[Hit] = []
    for needs in groups:
        for side in _sides_of(now.job, needs, ahead):
            board = board_of(now.job, side, after_laying(now.records, needs), ahead, needs)
            for closing in _closings(board):
                beside = (*hits[-1:], *ahead[:1])
                hits.append(_written(now, board.hit(closing, len(hits) + 1, beside), needs))
                now = now.after(hits[-1])
    return tuple(hits)


def _written(now: Pressed, bare: Hit, needs: Needs) -> Hit:
    """The hit with its lists: of what is wanted and not laid yet, it lays what it touches."""
    job, laid = now.job, after_laying(now.records, needs)
    fresh = (piece.id for piece in touched_pieces(bare, job, laid) if not now.records[piece.id].laid)
    hit = with_effects(replace(bare, lay=tuple(fresh)), job, now.records, now.peeled)
    return replace(hit, why=reasons(hit, replace(now, records=after_laying(now.records, hit.lay)), needs))


def _sides_of(job: Job, needs: Needs, ahead: Sequence[Hit]) -> list[Side]:
    """The sides of the named pieces; the one on which the next hit lies comes last."""
    wanted = {job.piece(piece).side for piece in needs}
    sides = [side for side in job.sides if side.name in wanted]
    return sorted(sides, key=lambda side: any(hit.side == side.name for hit in ahead[:1]))


def _closings(board: Board) -> Answer:
    answer = fewest_closings(tuple(board.places), board.wants)
    if answer is None:
        raise NoExtraHitError(why_none(board))
    return answer


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
