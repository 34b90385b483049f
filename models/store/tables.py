"""The tables. Every type of column here exists on SQLite and on PostgreSQL."""

from datetime import UTC, date, datetime
from enum import StrEnum
from typing import Any
from uuid import UUID

from sqlalchemy import (
    JSON,
    CheckConstraint,
    Column,
    Date,
    DateTime,
    Dialect,
    Enum,
    Float,
    ForeignKey,
    Index,
    MetaData,
    Named,
    String,
    Table,
    TypedColumns,
    TypeDecorator,
    UniqueConstraint,
    Uuid,
)
from sqlalchemy.types import TypeEngine

from models.batch.events import BatchEventKind
from models.batch.standing import Standing
from models.garment.cycle import EventKind, State
from models.job.job import Peel
from models.learning.learned import Told
from models.store.guarded import Guarded

METADATA = MetaData()


class UtcDateTime(TypeDecorator[datetime]):
    """An instant in UTC; on SQLite, which has no type for it, as ISO 8601 text, which sorts by time."""

    impl = DateTime
    cache_ok = True

    def load_dialect_impl(self, dialect: Dialect) -> TypeEngine[Any]:
        zoned = String(32) if dialect.name == "sqlite" else DateTime(timezone=True)
        return dialect.type_descriptor(zoned)

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> Any:
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError(f"{value} has no time zone")
        in_utc = value.astimezone(UTC)
        return in_utc.isoformat(timespec="microseconds") if dialect.name == "sqlite" else in_utc

    def process_result_value(self, value: Any, dialect: Dialect) -> datetime | None:
        if value is None:
            return None
        instant = datetime.fromisoformat(value) if dialect.name == "sqlite" else value
        return instant.astimezone(UTC)


def _by_value(enum: type[StrEnum]) -> Guarded[Any]:
    return Guarded(
        Enum(enum, native_enum=False, length=16, values_callable=lambda members: [m.value for m in members])
    )


ID = Guarded(Uuid())
INSTANT = Guarded(UtcDateTime())
CONTENT = Guarded(JSON())
DAY: Guarded[Any] = Guarded(Date())


class ShopColumns(TypedColumns):
    """One row: the characters that every tag code of this shop begins with."""

    id: Named[int] = Column(CheckConstraint("id = 1"), primary_key=True, autoincrement=False)
    code: Named[str]


class BatchColumns(TypedColumns):
    """`recipe` is the job and the plan as they were when the batch was loaded; it never changes.

    From `standing` on, the columns repeat what the fold of the batch's own events says, and so do `garments`
    and the `reference` of a batch that was taken back. `checksum` is of all but the recipe, so that lists
    need not read that.
    """

    id: Named[UUID] = Column(ID, primary_key=True)
    reference: Named[str] = Column(unique=True)
    name: Named[str]
    due: Named[date | None] = Column(DAY)
    garments: Named[int]
    created_at: Named[datetime] = Column(INSTANT)
    recipe: Named[dict[str, Any]] = Column(CONTENT)
    standing: Named[Standing] = Column(_by_value(Standing))
    priority: Named[int]
    seq: Named[int]
    checksum: Named[str]
    recipe_checksum: Named[str]


class GarmentColumns(TypedColumns):
    """From `state` on, the columns repeat what the fold of the events says, for lists and counts; from
    `remake_of` on, and `wearer` and `number`, what the batch's events say of this garment.

    `taken_out` is the reason why it is out of its batch, empty while it is in it. `sought` is what the
    garment is found by: see models.store.sought. `checksum` is not of what each tap changes.
    """

    id: Named[UUID] = Column(ID, primary_key=True)
    batch_id: Named[UUID] = Column(ID, ForeignKey("batches.id"))
    n: Named[int]
    size: Named[str]
    wearer: Named[str]
    number: Named[str]
    code: Named[str] = Column(unique=True)
    state: Named[State] = Column(_by_value(State))
    rest_ends_at: Named[datetime | None] = Column(INSTANT)
    station: Named[str]
    seq: Named[int]
    updated_at: Named[datetime] = Column(INSTANT)
    remake_of: Named[str]
    remade_as: Named[str]
    taken_out: Named[str]
    sought: Named[str]
    checksum: Named[str]


class EventColumns(TypedColumns):
    """The log. Triggers refuse every change of a row and every removal."""

    id: Named[UUID] = Column(ID, primary_key=True)
    garment_id: Named[UUID] = Column(ID, ForeignKey("garments.id"))
    seq: Named[int]
    tap: Named[UUID] = Column(ID)
    at: Named[datetime] = Column(INSTANT)
    station: Named[str]
    person: Named[str]
    kind: Named[EventKind] = Column(_by_value(EventKind))
    data: Named[dict[str, Any]] = Column(CONTENT)
    checksum: Named[str]


class BatchEventColumns(TypedColumns):
    """The log of a batch. Triggers refuse every change of a row and every removal."""

    id: Named[UUID] = Column(ID, primary_key=True)
    batch_id: Named[UUID] = Column(ID, ForeignKey("batches.id"))
    seq: Named[int]
    at: Named[datetime] = Column(INSTANT)
    station: Named[str]
    person: Named[str]
    kind: Named[BatchEventKind] = Column(_by_value(BatchEventKind))
    data: Named[dict[str, Any]] = Column(CONTENT)
    checksum: Named[str]


class RestColumns(TypedColumns):
    """What the logs say of rests that have ended; like the garments' states it can be read off them anew."""

    garment_id: Named[UUID] = Column(ID, ForeignKey("garments.id"), primary_key=True)
    n: Named[int] = Column(primary_key=True, autoincrement=False)
    at: Named[datetime] = Column(INSTANT)
    material: Named[str]
    fabric: Named[str]
    place: Named[str]
    until: Named[Peel] = Column(_by_value(Peel))
    estimate_s: Named[float] = Column(Float)
    rested_s: Named[float] = Column(Float)
    told: Named[Told] = Column(_by_value(Told))


SHOP = Table("shop", METADATA, ShopColumns)
BATCHES = Table("batches", METADATA, BatchColumns)
GARMENTS = Table(
    "garments",
    METADATA,
    GarmentColumns,
    UniqueConstraint("batch_id", "n"),
    Index("garments_by_state", "state", "rest_ends_at"),
    Index("garments_counted", "batch_id", "size", "state", "n", "taken_out", "remade_as"),
)
EVENTS = Table("events", METADATA, EventColumns, UniqueConstraint("garment_id", "seq"))
BATCH_EVENTS = Table("batch_events", METADATA, BatchEventColumns, UniqueConstraint("batch_id", "seq"))
RESTS = Table(
    "rests", METADATA, RestColumns, Index("rests_by_kind", "material", "fabric", "place", "until", "at")
)

HEAD_OF_BATCH = (
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
KEPT_OF_GARMENT = (
    GARMENTS.c.id,
    GARMENTS.c.batch_id,
    GARMENTS.c.n,
    GARMENTS.c.size,
    GARMENTS.c.wearer,
    GARMENTS.c.number,
    GARMENTS.c.code,
    GARMENTS.c.remake_of,
    GARMENTS.c.remade_as,
    GARMENTS.c.taken_out,
)
LINE_OF_LOG = (
    EVENTS.c.id,
    EVENTS.c.garment_id,
    EVENTS.c.seq,
    EVENTS.c.tap,
    EVENTS.c.at,
    EVENTS.c.station,
    EVENTS.c.person,
    EVENTS.c.kind,
    EVENTS.c.data,
)
LINE_OF_BATCH_LOG = (
    BATCH_EVENTS.c.id,
    BATCH_EVENTS.c.batch_id,
    BATCH_EVENTS.c.seq,
    BATCH_EVENTS.c.at,
    BATCH_EVENTS.c.station,
    BATCH_EVENTS.c.person,
    BATCH_EVENTS.c.kind,
    BATCH_EVENTS.c.data,
)
"""What each checksum is of, in this order. Migration 0006 knows the order, too."""
