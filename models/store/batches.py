"""What the store asks and tells about batches. Every function works in the transaction it is given."""

from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from difflib import get_close_matches
from typing import Any
from uuid import UUID

from sqlalchemy import Connection, func, insert, select

from models.batch.events import GarmentAdded
from models.batch.standing import Standing
from models.errors import StorageError
from models.garment.cycle import State
from models.garment.progress import Recipe
from models.job.job import GarmentOrder
from models.store import garments
from models.store.checksums import checksum_of, fits
from models.store.damage import batch_named, damaged, read_whole, sound
from models.store.errors import DamagedRecordError, ReferenceTakenError, UnknownBatchError
from models.store.recipe_json import recipe_from_json, recipe_to_json
from models.store.records import BatchHead, BatchProgress
from models.store.tables import BATCHES, GARMENTS, HEAD_OF_BATCH

HEADS = select(*HEAD_OF_BATCH, BATCHES.c.checksum)
OPEN = BATCHES.c.standing == Standing.OPEN
Heads = Iterator[BatchHead | DamagedRecordError]
Counted = tuple[str, State, int, int, int]
TAKEN_OUT = func.count().filter(GARMENTS.c.taken_out != "")
REMADE = func.count().filter(GARMENTS.c.remade_as != "")
COUNTED = (
    select(GARMENTS.c.batch_id, GARMENTS.c.size, GARMENTS.c.state, func.count(), TAKEN_OUT, REMADE)
    .join(BATCHES, BATCHES.c.id == GARMENTS.c.batch_id)
    .where(OPEN)
    .group_by(GARMENTS.c.batch_id, GARMENTS.c.size, GARMENTS.c.state)
    .order_by(func.min(GARMENTS.c.n))
)
"""Garments of each open batch by size and state, sizes in the order in which the roster first names them;
how many of them were taken out, and how many made again.
"""

ROUNDS_OF_DRAWING = 100


@dataclass(frozen=True, slots=True)
class Makers:
    """Where new ids and tag codes come from."""

    new_id: Callable[[], UUID]
    new_code: Callable[[], str]


def add(connection: Connection, recipe: Recipe, at: datetime, makers: Makers) -> BatchHead:
    """Stores the batch with all its garments. Nobody else may add one meanwhile: see wait_for_turn.

    Raises ReferenceTakenError.
    """
    job = recipe.job
    _must_be_free(connection, job.reference)
    head = BatchHead(
        makers.new_id(), job.reference, job.name, job.due, len(job.garments), at, Standing.OPEN, 0, 0
    )
    stored = recipe_to_json(recipe)
    batch = {**sealed_head(head), "recipe": stored, "recipe_checksum": checksum_of(stored)}
    connection.execute(insert(BATCHES).values(batch))
    codes = fresh_codes(connection, len(job.garments), makers.new_code)
    rows = [
        garments.new_row(_as_added(order, code), head.id, makers.new_id(), at)
        for order, code in zip(job.garments, codes, strict=True)
    ]
    connection.execute(insert(GARMENTS), rows)
    return head


def sealed_head(head: BatchHead) -> dict[str, Any]:
    """Return the columns that are told of a batch in lists, with their checksum."""
    values = {column.key: getattr(head, column.key) for column in HEAD_OF_BATCH}
    return {**values, "checksum": checksum_of(*values.values())}


def find(connection: Connection, reference: str) -> BatchHead:
    """Raises UnknownBatchError with the references that are spelled like this one, DamagedRecordError."""
    row = connection.execute(HEADS.where(BATCHES.c.reference == reference)).one_or_none()
    if row is None:
        stored = select(BATCHES.c.reference).where(BATCHES.c.standing != Standing.WITHDRAWN)
        raise UnknownBatchError(_nothing_found(reference, list(connection.scalars(stored))))
    return sound(_head(*row))


def find_by_id(connection: Connection, batch_id: UUID) -> BatchHead:
    """Return a batch that is there. Raises DamagedRecordError."""
    return sound(_head(*connection.execute(HEADS.where(BATCHES.c.id == batch_id)).one()))


def recipe_of(connection: Connection, batch_id: UUID) -> Recipe:
    """Raises DamagedRecordError if it is not what was stored, StorageError if its format is newer."""
    asked = select(BATCHES.c.reference, BATCHES.c.recipe, BATCHES.c.recipe_checksum)
    reference, stored, checksum = connection.execute(asked.where(BATCHES.c.id == batch_id)).one()
    named = f"the recipe of {batch_named(reference)}"
    if not fits(checksum, stored):
        raise damaged(named)
    return read_whole(lambda: recipe_from_json(stored), named)


def heads(connection: Connection, *, also_withdrawn: bool = False) -> Heads:
    """Yield all batches, the newest first; those that were taken back only if they are asked for."""
    asked = HEADS if also_withdrawn else HEADS.where(BATCHES.c.standing != Standing.WITHDRAWN)
    return (_head(*row) for row in connection.execute(asked.order_by(BATCHES.c.id.desc())))


def progress_of_open(connection: Connection) -> Iterator[BatchProgress | DamagedRecordError]:
    """Yield the open batches, the newest first, counted by the database."""
    rows = connection.execute(HEADS.where(OPEN).order_by(BATCHES.c.id.desc())).all()
    by_batch: defaultdict[UUID, list[Counted]] = defaultdict(list)
    for batch_id, size, state, count, out, remade in connection.execute(COUNTED):
        if isinstance(state, State):  # else its own list tells of the garment
            by_batch[batch_id].append((size, state, count, out, remade))
    for row in rows:
        head = _head(*row)
        yield head if isinstance(head, DamagedRecordError) else _progress(head, by_batch[head.id])


def _head(*row: Any) -> BatchHead | DamagedRecordError:
    *values, checksum = row
    head = BatchHead(*values)
    return head if fits(checksum, *values) else damaged(batch_named(head.reference))


def _progress(head: BatchHead, counted: Iterable[Counted]) -> BatchProgress:
    by_state: Counter[State] = Counter()
    by_size: defaultdict[str, Counter[State]] = defaultdict(Counter)
    remade = out = 0
    for size, state, count, taken_out, made_again in counted:
        by_state[state] += count - taken_out
        by_size[size][state] += count - taken_out
        remade, out = remade + made_again, out + taken_out
    return BatchProgress(head, by_state, dict(by_size), remade, out)


def _must_be_free(connection: Connection, reference: str) -> None:
    if connection.scalar(select(BATCHES.c.id).where(BATCHES.c.reference == reference)) is not None:
        raise ReferenceTakenError(
            f"a batch {reference} is stored already; give this one another reference in its job file"
        )


def fresh_codes(connection: Connection, count: int, new_code: Callable[[], str]) -> list[str]:
    """As many tag codes, none of them in use. Those that turn out to be are drawn again."""
    fresh: dict[str, None] = {}  # a dict, for its order: the same random source gives the same tags
    for _ in range(ROUNDS_OF_DRAWING):
        drawn = [new_code() for _ in range(count - len(fresh))]
        taken = set(connection.scalars(select(GARMENTS.c.code).where(GARMENTS.c.code.in_(drawn))))
        fresh.update((code, None) for code in drawn if code not in taken)
        if len(fresh) == count:
            return list(fresh)
    raise StorageError("nearly all tag codes of this shop are in use; begin a new database")


def _as_added(order: GarmentOrder, code: str) -> GarmentAdded:
    return GarmentAdded(code, order.n, order.size, order.wearer, order.number)


def _nothing_found(reference: str, stored: list[str]) -> str:
    if not stored:
        return f"there is no batch {reference}: none is stored yet; load a job first"
    near = get_close_matches(reference, stored, n=3) or stored[-3:]
    return f"there is no batch {reference}; look at {', '.join(near)}"
