"""The hits of a plan, written out: platen, setting, lists, cover and pad, as the rules make them follow."""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from models.geometry import Box, Outline, Point, Polygon
from models.job.job import Job, Piece
from models.planning.bits import members
from models.planning.hit_effects import with_effects
from models.planning.piece_record import Records, after_hit, untouched
from models.planning.plan import Hit, Totals
from models.planning.platen_spots import Spot
from models.planning.strokes import Stroke


def written_hits(
    job: Job,
    strokes: Sequence[tuple[Stroke, float]],
    records: Records | None = None,
    peeled: Collection[str] = (),
) -> tuple[Hit, ...]:
    """The hits in order, with no reasons yet; of a new garment, or of one to which `records` has happened."""
    boxed, peeled, hits = _boxed(job), set(peeled), list[Hit]()
    records = untouched(boxed) if records is None else records
    for n, (stroke, temperature_c) in enumerate(strokes, start=1):
        hit = with_effects(_hit(stroke, temperature_c, n), boxed, records, peeled)
        hits.append(hit)
        records = after_hit(records, boxed, hit, hit.dwell_s)
        peeled |= {step.piece for step in hit.peel}
    return tuple(hits)


def totals_of(hits: Sequence[Hit]) -> Totals:
    return Totals(
        hits=len(hits),
        temperature_changes=sum(a.temperature_c != b.temperature_c for a, b in pairwise(hits)),
        side_changes=sum(a.side != b.side for a, b in pairwise(hits)),
        dwell_s=sum(hit.dwell_s for hit in hits),
        reheats=sum(len(hit.touch_again) for hit in hits),
    )


def _boxed(job: Job) -> Job:
    """The job with each outline its box: heat and seconds go by boxes, and a box is quicker to measure."""
    return replace(job, pieces=tuple(_as_box(piece) for piece in job.pieces))


def _as_box(piece: Piece) -> Piece:
    box = piece.box
    ring = ((box.x, box.y), (box.right, box.y), (box.right, box.bottom), (box.x, box.bottom))
    return replace(piece, outline=Outline((Polygon(ring),)))


def _hit(stroke: Stroke, temperature_c: float, n: int) -> Hit:
    work, closing = stroke.work, stroke.closing
    return Hit(
        n=n,
        side=work.side.name,
        platen=_platen(stroke),
        temperature_c=temperature_c,
        pressure=stroke.pressure,
        dwell_s=closing.dwell_s,
        lay=tuple(work.pieces[piece].id for piece in members(closing.laid)),
        count=(),
        touch_again=(),
        cover=False,
        pad=False,
        peel=(),
        why=(),
    )


def _platen(stroke: Stroke) -> Box:
    """Where the platen holds what is wanted and touches no more, with what is wanted near its middle."""
    width, height = stroke.work.platen
    x, y = _middle([stroke.work.parts[k].box for k in members(stroke.wanted)])
    wanted = (x - width / 2, y - height / 2)
    corners = [spot.corner_near(wanted) for spot in _spots_for(stroke)]
    nearest = min(corners, key=lambda c: ((c[0] - wanted[0]) ** 2 + (c[1] - wanted[1]) ** 2, c))
    return Box(*nearest, width, height)


def _spots_for(stroke: Stroke) -> Iterator[Spot]:
    """The spots that do as the stroke does; what is not laid yet may lie under the platen or not."""
    away = stroke.present & ~stroke.touched
    laid = [stroke.work.parts_of_piece[piece] for piece in members(stroke.closing.laid)]
    for spot in stroke.work.spots:
        does_as_much = not stroke.wanted & ~spot.held and all(spot.touched & parts for parts in laid)
        if does_as_much and not spot.touched & away:
            yield spot


def _middle(boxes: Sequence[Box]) -> Point:
    left, right = min(box.x for box in boxes), max(box.right for box in boxes)
    top, bottom = min(box.y for box in boxes), max(box.bottom for box in boxes)
    return ((left + right) / 2, (top + bottom) / 2)
