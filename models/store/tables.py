"""The tables. Every type of column here exists on SQLite and on PostgreSQL."""

from datetime import UTC, date, datetime
from enum import StrEnum
from typing import Any, ClassVar
from uuid import UUID

from sqlalchemy import (
    JSON,
    CheckConstraint,
    DateTime,
    Dialect,
    Enum,
    ForeignKey,
    Index,
    String,
    Text,
    TypeDecorator,
    UniqueConstraint,
    Uuid,
)
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column
from sqlalchemy.types import TypeEngine

from models.garment.cycle import EventKind, State


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


class Base(DeclarativeBase):
    type_annotation_map: ClassVar[dict[Any, Any]] = {
        UUID: Uuid(),
        str: Text(),
        datetime: UtcDateTime(),
        State: _by_value(State),
        EventKind: _by_value(EventKind),
        dict[str, Any]: JSON(),
    }


class ShopTable(Base):
    """One row: the characters that every tag code of this shop begins with."""

    __tablename__ = "shop"

    id: Mapped[int] = mapped_column(CheckConstraint("id = 1"), primary_key=True, autoincrement=False)
    code: Mapped[str]


class BatchTable(Base):
    """`recipe` is the job and the plan as they were when the batch was loaded; it never changes."""

    __tablename__ = "batches"

    id: Mapped[UUID] = mapped_column(primary_key=True)
    reference: Mapped[str] = mapped_column(unique=True)
    name: Mapped[str]
    due: Mapped[date | None]
    garments: Mapped[int]
    created_at: Mapped[datetime]
    recipe: Mapped[dict[str, Any]]


class GarmentTable(Base):
    """From `state` on, the columns repeat what the fold of the events says, for lists and counts."""

    __tablename__ = "garments"

    id: Mapped[UUID] = mapped_column(primary_key=True)
    batch_id: Mapped[UUID] = mapped_column(ForeignKey("batches.id"))
    n: Mapped[int]
    size: Mapped[str]
    wearer: Mapped[str]
    number: Mapped[str]
    code: Mapped[str] = mapped_column(unique=True)
    state: Mapped[State]
    rest_ends_at: Mapped[datetime | None]
    station: Mapped[str]
    seq: Mapped[int]
    updated_at: Mapped[datetime]

    __table_args__ = (
        UniqueConstraint("batch_id", "n"),
        Index("garments_by_state", "state", "rest_ends_at"),
        Index("garments_counted", "batch_id", "size", "state", "n"),
    )


class EventTable(Base):
    """The log. Triggers refuse every change of a row and every removal."""

    __tablename__ = "events"

    id: Mapped[UUID] = mapped_column(primary_key=True)
    garment_id: Mapped[UUID] = mapped_column(ForeignKey("garments.id"))
    seq: Mapped[int]
    tap: Mapped[UUID]
    at: Mapped[datetime]
    station: Mapped[str]
    person: Mapped[str]
    kind: Mapped[EventKind]
    data: Mapped[dict[str, Any]]

    __table_args__ = (UniqueConstraint("garment_id", "seq"),)
