"""What the store asks and tells about batches. Every function works in the transaction it is given."""

from collections import Counter, defaultdict
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import datetime
from difflib import get_close_matches
from uuid import UUID

from sqlalchemy import Connection, func, insert, select

from models.batch.events import GarmentAdded
from models.batch.standing import Standing
from models.errors import StorageError
from models.garment.cycle import State
from models.garment.progress import Recipe
from models.job.job import GarmentOrder
from models.store import garments
from models.store.errors import ReferenceTakenError, UnknownBatchError
from models.store.recipe_json import recipe_from_json, recipe_to_json
from models.store.records import BatchHead, BatchProgress
from models.store.tables import BATCHES, GARMENTS

HEAD = (
    BATCHES.c.id,
    BATCHES.c.reference,
    BATCHES.c.name,
    BATCHES.c.due,
    BATCHES.c.garments,
    BATCHES.c.created_at,
    BATCHES.c.standing,
    BATCHES.c.priority,
    BATCHES.c.seq,
)
OPEN = BATCHES.c.standing == Standing.OPEN
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
    batch = {column.key: getattr(head, column.key) for column in HEAD}
    connection.execute(insert(BATCHES).values(recipe=recipe_to_json(recipe), **batch))
    codes = fresh_codes(connection, len(job.garments), makers.new_code)
    rows = [
        garments.new_row(_as_added(order, code), head.id, makers.new_id(), at)
        for order, code in zip(job.garments, codes, strict=True)
    ]
    connection.execute(insert(GARMENTS), rows)
    return head


def find(connection: Connection, reference: str) -> BatchHead:
    """Raises UnknownBatchError with the references that are spelled like this one."""
    row = connection.execute(select(*HEAD).where(BATCHES.c.reference == reference)).one_or_none()
    if row is None:
        stored = select(BATCHES.c.reference).where(BATCHES.c.standing != Standing.WITHDRAWN)
        raise UnknownBatchError(_nothing_found(reference, list(connection.scalars(stored))))
    return BatchHead(*row)


def recipe_of(connection: Connection, batch_id: UUID) -> Recipe:
    return recipe_from_json(
        connection.scalars(select(BATCHES.c.recipe).where(BATCHES.c.id == batch_id)).one()
    )


def heads(connection: Connection) -> tuple[BatchHead, ...]:
    """Return all batches that were not taken back, the newest first."""
    stands = BATCHES.c.standing != Standing.WITHDRAWN
    return tuple(
        BatchHead(*row)
        for row in connection.execute(select(*HEAD).where(stands).order_by(BATCHES.c.id.desc()))
    )


def progress_of_open(connection: Connection) -> tuple[BatchProgress, ...]:
    """Return the open batches, the newest first, counted by the database."""
    rows = connection.execute(select(*HEAD).where(OPEN).order_by(BATCHES.c.id.desc()))
    by_batch: defaultdict[UUID, list[Counted]] = defaultdict(list)
    for batch_id, size, state, count, out, remade in connection.execute(COUNTED):
        by_batch[batch_id].append((size, state, count, out, remade))
    return tuple(_progress(BatchHead(*row), by_batch[row.id]) for row in rows)


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
