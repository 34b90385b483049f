"""Finding garments and batches by a part of what is written on them, in the transaction it is given."""

from dataclasses import dataclass
from uuid import UUID

from sqlalchemy import ColumnElement, Connection, and_, false, or_

from models.batch.standing import Standing
from models.store import batches, garments
from models.store.damage import Fence
from models.store.records import BatchHead, GarmentRow
from models.store.tables import BATCHES, GARMENTS
from models.text_folding import folded


@dataclass(frozen=True, slots=True)
class Found:
    """Batches and garments that fit; `is_more` if there are more garments than were asked for.

    Open batches stand first, then the newest; garments of one batch stand by n.
    """

    batches: tuple[BatchHead, ...] = ()
    garments: tuple[GarmentRow, ...] = ()
    is_more: bool = False


def find(connection: Connection, text: str, most: int, fence: Fence) -> Found:
    """Return what every word of `text` is a part of: wearer's name, number, code, or the batch's reference.

    Case and accents make no difference. No text finds all batches, and no garment.
    """
    words = folded(text).split()
    heads = sorted(fence.sound(batches.heads(connection)), key=lambda head: head.standing != Standing.OPEN)
    fitting = [head for head in heads if all(word in _written_on(head) for word in words)]
    if not words:
        return Found(tuple(fitting))
    by_word = [_fits(word, heads) for word in words]
    rows = tuple(fence.sound(garments.matching(connection, and_(*by_word), most + 1)))
    return Found(tuple(fitting), rows[:most], len(rows) > most)


def _written_on(head: BatchHead) -> str:
    return folded(f"{head.reference} {head.name}")


def _fits(word: str, heads: list[BatchHead]) -> ColumnElement[bool]:
    ids: list[UUID] = [head.id for head in heads if word in folded(head.reference)]
    of_batch = GARMENTS.c.batch_id.in_(ids) if ids else false()
    return and_(
        or_(GARMENTS.c.sought.contains(word, autoescape=True), of_batch),
        BATCHES.c.standing != Standing.WITHDRAWN,
    )
