"""The tables. Every type of column here exists on SQLite and on PostgreSQL."""

from datetime import UTC, date, datetime
from enum import StrEnum
from typing import Any
from uuid import UUID

from sqlalchemy import (
    JSON,
    CheckConstraint,
    Column,
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
)
from sqlalchemy.types import TypeEngine

from models.batch.events import BatchEventKind
from models.batch.standing import Standing
from models.garment.cycle import EventKind, State
from models.heat.learned import Told
from models.job.job import Peel

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


def _by_value(enum: type[StrEnum]) -> Enum:
    return Enum(
        enum, native_enum=False, length=16, values_callable=lambda members: [m.value for m in members]
    )


class ShopColumns(TypedColumns):
    """One row: the characters that every tag code of this shop begins with."""

    id: Named[int] = Column(CheckConstraint("id = 1"), primary_key=True, autoincrement=False)
    code: Named[str]


class BatchColumns(TypedColumns):
    """`recipe` is the job and the plan as they were when the batch was loaded; it never changes.

    From `standing` on, the columns repeat what the fold of the batch's own events says, and so do `garments`
    and the `reference` of a batch that was taken back.
    """

    id: Named[UUID] = Column(primary_key=True)
    reference: Named[str] = Column(unique=True)
    name: Named[str]
    due: Named[date | None]
    garments: Named[int]
    created_at: Named[datetime] = Column(UtcDateTime)
    recipe: Named[dict[str, Any]] = Column(JSON)
    standing: Named[Standing] = Column(_by_value(Standing))
    priority: Named[int]
    seq: Named[int]


class GarmentColumns(TypedColumns):
    """From `state` on, the columns repeat what the fold of the events says, for lists and counts; from
    `remake_of` on, and `wearer` and `number`, what the batch's events say of this garment.

    `taken_out` is the reason why it is out of its batch, empty while it is in it. `sought` is what the
    garment is found by: see models.store.sought.
    """

    id: Named[UUID] = Column(primary_key=True)
    batch_id: Named[UUID] = Column(ForeignKey("batches.id"))
    n: Named[int]
    size: Named[str]
    wearer: Named[str]
    number: Named[str]
    code: Named[str] = Column(unique=True)
    state: Named[State] = Column(_by_value(State))
    rest_ends_at: Named[datetime | None] = Column(UtcDateTime)
    station: Named[str]
    seq: Named[int]
    updated_at: Named[datetime] = Column(UtcDateTime)
    remake_of: Named[str]
    remade_as: Named[str]
    taken_out: Named[str]
    sought: Named[str]


class EventColumns(TypedColumns):
    """The log. Triggers refuse every change of a row and every removal."""

    id: Named[UUID] = Column(primary_key=True)
    garment_id: Named[UUID] = Column(ForeignKey("garments.id"))
    seq: Named[int]
    tap: Named[UUID]
    at: Named[datetime] = Column(UtcDateTime)
    station: Named[str]
    person: Named[str]
    kind: Named[EventKind] = Column(_by_value(EventKind))
    data: Named[dict[str, Any]] = Column(JSON)


class BatchEventColumns(TypedColumns):
    """The log of a batch. Triggers refuse every change of a row and every removal."""

    id: Named[UUID] = Column(primary_key=True)
    batch_id: Named[UUID] = Column(ForeignKey("batches.id"))
    seq: Named[int]
    at: Named[datetime] = Column(UtcDateTime)
    station: Named[str]
    person: Named[str]
    kind: Named[BatchEventKind] = Column(_by_value(BatchEventKind))
    data: Named[dict[str, Any]] = Column(JSON)


class RestColumns(TypedColumns):
    """What the logs say of rests that have ended; like the garments' states it can be read off them anew."""

    garment_id: Named[UUID] = Column(ForeignKey("garments.id"), primary_key=True)
    n: Named[int] = Column(primary_key=True, autoincrement=False)
    at: Named[datetime] = Column(UtcDateTime)
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
