"""The hits of a plan, written out: platen, setting, lists, cover and pad, as the rules make them follow."""

from collections.abc import Collection, Sequence
from dataclasses import replace
from itertools import pairwise

from models.geometry import Box, Point
from models.job.job import Job
from models.plan.plan import Hit, Totals
from models.planning.assembly.merge_sides import Setting
from models.planning.explain.hit_reasons import why_hit
from models.planning.explain.setting_reasons import cover_and_pad
from models.planning.hits.effects import with_effects
from models.planning.hits.piece_record import Records, after_hit, untouched
from models.planning.problem.bitset import members
from models.planning.problem.resolved_hit import Stroke
from models.planning.problem.side import SideWork

SetStroke = tuple[Stroke, Setting]
"""A stroke of a side, and the press that makes it with what it is set to."""


def written_hits(
    strokes: Sequence[SetStroke], records: Records | None = None, peeled: Collection[str] = ()
) -> tuple[Hit, ...]:
    """The hits of one side in order, from 1 on, each with its reasons.

    They are those of a new garment, or of one to which `records` has happened: that may need no more.
    """
    if not strokes:
        return ()
    peeled, hits, job = set(peeled), list[Hit](), _job_of_side(strokes[0][0].work)
    records = _records_on(job, untouched(job) if records is None else records)
    for n, (stroke, setting) in enumerate(strokes, start=1):
        hit = with_effects(_hit(stroke, setting, n), job, records, peeled)
        later = [following for following, _ in strokes[n:]]
        why = (*why_hit(hit, stroke, later), *cover_and_pad(hit, job, records))
        hits.append(replace(hit, why=why))
        records = after_hit(records, job, hit, hit.dwell_s)
        peeled |= {step.piece for step in hit.peel}
    return tuple(hits)


def totals_of(hits: Sequence[Hit]) -> Totals:
    return Totals(
        hits=len(hits),
        temperature_changes=_temperature_changes(hits),
        side_changes=sum(a.side != b.side for a, b in pairwise(hits)),
        dwell_s=sum(hit.dwell_s for hit in hits),
        reheats=sum(len(hit.touch_again) for hit in hits),
        walks=sum(a.press != b.press for a, b in pairwise(hits)),
    )


def _temperature_changes(hits: Sequence[Hit]) -> int:
    """Each press's own, from its one hit to its next."""
    presses = {hit.press for hit in hits}
    own = [[hit.temperature_c for hit in hits if hit.press == press] for press in presses]
    return sum(a != b for temperatures in own for a, b in pairwise(temperatures))


def _job_of_side(work: SideWork) -> Job:
    """The job with the side's pieces alone, which is all that a hit on it meets."""
    return replace(work.job, pieces=work.pieces)


def _records_on(job: Job, records: Records) -> Records:
    return {piece.id: records[piece.id] for piece in job.pieces}


def _hit(stroke: Stroke, setting: Setting, n: int) -> Hit:
    work, closing = stroke.work, stroke.closing
    press = work.job.presses[setting.press]
    return Hit(
        n=n,
        side=work.side.name,
        platen=_platen(stroke, setting.press, (press.platen_width_mm, press.platen_height_mm)),
        temperature_c=setting.temperature_c,
        pressure=stroke.pressure,
        dwell_s=closing.dwell_s,
        lay=tuple(work.pieces[piece].id for piece in members(closing.laid)),
        count=(),
        touch_again=(),
        cover=False,
        pad=False,
        peel=(),
        why=(),
        press=press.name,
    )


def _platen(stroke: Stroke, press: int, size: tuple[float, float]) -> Box:
    """Where the platen holds what is wanted and touches no more, with what is wanted near its middle."""
    width, height = size
    x, y = _middle([stroke.work.parts[k].box for k in members(stroke.wanted)])
    wanted = (x - width / 2, y - height / 2)
    corners = [spot.corner_near(wanted) for spot in stroke.spots if spot.press == press]
    nearest = min(corners, key=lambda c: ((c[0] - wanted[0]) ** 2 + (c[1] - wanted[1]) ** 2, c))
    return Box(*nearest, width, height)


def _middle(boxes: Sequence[Box]) -> Point:
    left, right = min(box.x for box in boxes), max(box.right for box in boxes)
    top, bottom = min(box.y for box in boxes), max(box.bottom for box in boxes)
    return ((left + right) / 2, (top + bottom) / 2)
