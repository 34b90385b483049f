"""Sides planned anew from what has really happened, where the frozen hits would now be too much for them."""

from collections.abc import Collection, Sequence
from dataclasses import replace

from models.job.job import Side
from models.plan.plan import Hit
from models.planning.assembly.hit_builder import written_hits
from models.planning.assembly.merge_sides import interleaved
from models.planning.greedy.construct import quick_sequence
from models.planning.greedy.dead_ends import Prospects
from models.planning.problem.bitset import bits_of
from models.planning.problem.patterns import ways_to_hit
from models.planning.problem.resolved_hit import strokes_of
from models.planning.problem.side import SideWork, side_work
from models.planning.problem.state import Standing
from models.planning.rework.incident import Mending, Needs, Pressed
from models.planning.rework.laying import laying_fault


def planned_anew(now: Pressed, ahead: Sequence[Hit], sides: Collection[str], needs: Needs) -> Mending | None:
    """All that is left to do on these sides, and then the hits ahead on the other ones.

    None where no sound sequence is found. The hits are extra, and numbered from 1, until every need is met.
    """
    anew: list[Hit] = []
    for side in (side for side in now.job.sides if side.name in sides):
        hits = _side_anew(now, side)
        if hits is None:
            return None
        anew += hits
    if laying_fault(now, anew):
        return None
    extra = _until_met(now, anew, needs)
    kept = [hit for hit in ahead if hit.side not in sides]
    rest = _numbered(anew[extra:], min(hit.n for hit in ahead))
    return Mending(_numbered(anew[:extra], 1), (*rest, *kept), is_fewest=extra <= 1)


def _side_anew(now: Pressed, side: Side) -> tuple[Hit, ...] | None:
    work = side_work(now.job, side)
    start, ways = standing_of(work, now), ways_to_hit(work)
    can_end = Prospects(work, ways, start.laid).has_any(start)
    closings = quick_sequence(work, ways, start) if can_end else None
    if closings is None:
        return None
    strokes = interleaved([strokes_of(work, closings, start)])
    return written_hits(strokes, now.records, now.peeled)


def standing_of(work: SideWork, now: Pressed) -> Standing:
    """The side as it really is, as the planner sees it."""
    records = [now.records[piece.id] for piece in work.pieces]
    parts = [(record, k) for record in records for k in range(len(record.counted_s))]
    return Standing(
        laid=bits_of(n for n, record in enumerate(records) if record.laid),
        down=bits_of(n for n, record in enumerate(records) if record.down),
        finish_due=bits_of(n for n, (record, k) in enumerate(parts) if record.finish_due_s[k] > 0),
        missing_s=tuple(max(0, record.needed_s - record.counted_s[k]) for record, k in parts),
        left_s=tuple(
            max(0, part.material.total_s - record.heated_s[k])
            for part, (record, k) in zip(work.parts, parts, strict=True)
        ),
    )


def _until_met(now: Pressed, hits: Sequence[Hit], needs: Needs) -> int:
    """How many of the hits it takes until each part has what it wants; none where none wants anything."""
    if not needs:
        return 0
    goals = {
        piece: [had + want for had, want in zip(now.records[piece].counted_s, seconds, strict=True)]
        for piece, seconds in needs.items()
    }
    for n, hit in enumerate(hits, start=1):
        now = now.after(hit)
        if all(_has(now, piece, goal) for piece, goal in goals.items()):
            return n
    return len(hits)


def _has(now: Pressed, piece: str, goal_s: Sequence[int]) -> bool:
    record = now.records[piece]
    return record.finished or all(s >= goal for s, goal in zip(record.counted_s, goal_s, strict=True))


def _numbered(hits: Sequence[Hit], first: int) -> tuple[Hit, ...]:
    return tuple(replace(hit, n=n) for n, hit in enumerate(hits, start=first))
