"""What the store asks and tells about garments and their logs, in the transaction it is given."""

from collections.abc import Iterator, Sequence
from datetime import datetime
from itertools import groupby
from typing import Any
from uuid import UUID

from sqlalchemy import ColumnElement, Connection, Select, and_, func, insert, select, update

from models.batch.events import GarmentAdded
from models.batch.standing import Standing
from models.garment.cycle import IN_WORK, State
from models.garment.events import Event, happening_from_json, happening_to_json, kind_of
from models.store.errors import GarmentMovedError, UnknownCodeError
from models.store.records import GarmentRow
from models.store.sought import sought_of
from models.store.tables import BATCHES, EVENTS, GARMENTS
from models.tags.code import spoken

GARMENT = (
    GARMENTS.c.id,
    GARMENTS.c.code,
    BATCHES.c.reference,
    GARMENTS.c.n,
    GARMENTS.c.size,
    GARMENTS.c.wearer,
    GARMENTS.c.number,
    GARMENTS.c.state,
    GARMENTS.c.rest_ends_at,
    GARMENTS.c.station,
    GARMENTS.c.updated_at,
    GARMENTS.c.remake_of,
    GARMENTS.c.remade_as,
    GARMENTS.c.taken_out,
)
IN_BATCH = and_(GARMENTS.c.taken_out == "", BATCHES.c.standing == Standing.OPEN)
"""Whether the garment is to be worked: its batch is open, and it was not taken out of it."""
EVENT = (
    EVENTS.c.id,
    EVENTS.c.seq,
    EVENTS.c.tap,
    EVENTS.c.at,
    EVENTS.c.station,
    EVENTS.c.person,
    EVENTS.c.kind,
    EVENTS.c.data,
)
ROWS_AT_ONCE = 1000

Asked = Select[*tuple[Any, ...]]
Logged = tuple[GarmentRow, tuple[Event, ...]]


def new_row(added: GarmentAdded, batch_id: UUID, garment_id: UUID, at: datetime) -> dict[str, Any]:
    """Return the row of a garment that nobody has begun."""
    return {
        "id": garment_id,
        "batch_id": batch_id,
        "n": added.n,
        "size": added.size,
        "wearer": added.wearer,
        "number": added.number,
        "code": added.code,
        "state": State.IDLE,
        "rest_ends_at": None,
        "station": "",
        "seq": 0,
        "updated_at": at,
        "remake_of": added.remake_of,
        "remade_as": "",
        "taken_out": "",
        "sought": sought_of(added.wearer, added.number, added.code),
    }


def row_of(connection: Connection, code: str) -> GarmentRow:
    """Return the garment without its log. Raises UnknownCodeError."""
    rows = _rows(connection, _garments(GARMENTS.c.code == code))
    if not rows:
        raise UnknownCodeError(_no_such_tag(code))
    return rows[0]


def of_batch(connection: Connection, batch_id: UUID, since: datetime | None) -> tuple[GarmentRow, ...]:
    """All of them, or those that have moved since then."""
    asked = _garments(GARMENTS.c.batch_id == batch_id)
    if since is not None:
        asked = asked.where(GARMENTS.c.updated_at >= since)
    return _rows(connection, asked.order_by(GARMENTS.c.n))


def resting(connection: Connection) -> tuple[GarmentRow, ...]:
    """The soonest first."""
    is_resting = and_(GARMENTS.c.state == State.RESTING, IN_BATCH)
    return _rows(connection, _garments(is_resting).order_by(GARMENTS.c.rest_ends_at, GARMENTS.c.code))


def newest_at(connection: Connection) -> datetime | None:
    return connection.scalar(select(func.max(GARMENTS.c.updated_at)))


def pressing(connection: Connection, station: str) -> tuple[GarmentRow, ...]:
    """In no order: there is one for each press at most."""
    is_pressing = and_(GARMENTS.c.state == State.PRESSING, GARMENTS.c.station == station, IN_BATCH)
    return _rows(connection, _garments(is_pressing))


def in_work(connection: Connection, station: str | None) -> tuple[GarmentRow, ...]:
    """The last worked first."""
    asked = _garments(and_(GARMENTS.c.state.in_(sorted(IN_WORK)), IN_BATCH))
    if station is not None:
        asked = asked.where(GARMENTS.c.station == station)
    return _rows(connection, asked.order_by(GARMENTS.c.updated_at.desc(), GARMENTS.c.code))


def matching(connection: Connection, which: ColumnElement[bool], most: int) -> tuple[GarmentRow, ...]:
    """Return the first garments of those: of open batches, then of the newest, by n."""
    is_closed = BATCHES.c.standing != Standing.OPEN
    asked = _garments(which).order_by(is_closed, BATCHES.c.id.desc(), GARMENTS.c.n)
    return _rows(connection, asked.limit(most))


def with_log(connection: Connection, code: str) -> Logged:
    """Raises UnknownCodeError."""
    found = next(_logged(connection, GARMENTS.c.code == code), None)
    if found is None:
        raise UnknownCodeError(_no_such_tag(code))
    return found


def logs_of_batch(connection: Connection, batch_id: UUID) -> Iterator[Logged]:
    """By n, read as they are asked for."""
    streaming = connection.execution_options(yield_per=ROWS_AT_ONCE)
    return _logged(streaming, GARMENTS.c.batch_id == batch_id)


def append(connection: Connection, row: GarmentRow, seen: int, events: Sequence[Event]) -> None:
    """Adds events to the log of the garment, which becomes `row`; `seen` is the last event its reader saw.

    Raises GarmentMovedError where the log goes on after `seen`, or nothing may be done with it any more.
    """
    is_open_to_taps = (GARMENTS.c.taken_out == "", GARMENTS.c.remade_as == "")
    moved = (
        update(GARMENTS)
        .where(GARMENTS.c.id == row.id, GARMENTS.c.seq == seen, *is_open_to_taps)
        .values(
            state=row.state,
            rest_ends_at=row.rest_ends_at,
            station=row.station,
            seq=events[-1].seq,
            updated_at=row.updated_at,
        )
    )
    if connection.execute(moved).rowcount == 0:
        raise GarmentMovedError(_where_it_is(connection, row.code))
    connection.execute(insert(EVENTS), [_event_to_row(event, row.id) for event in events])


def _where_it_is(connection: Connection, code: str) -> str:
    row = row_of(connection, code)
    if row.taken_out:
        return f"{spoken(code)} was taken out of its batch ({row.taken_out}); put it back before it goes on"
    if row.remade_as:
        return f"{spoken(code)} was made again as {spoken(row.remade_as)}; it stays spoiled"
    where = f" at {row.station}" if row.station else ""
    return f"{spoken(code)} was worked{where} meanwhile and is {row.state.value} now; scan its tag again"


def _no_such_tag(code: str) -> str:
    return f"no garment has the tag {spoken(code)}; see that its batch is loaded here"


def _garments(which: ColumnElement[bool]) -> Asked:
    return select(*GARMENT).join(BATCHES, BATCHES.c.id == GARMENTS.c.batch_id).where(which)


def _rows(connection: Connection, asked: Asked) -> tuple[GarmentRow, ...]:
    return tuple(GarmentRow(*row) for row in connection.execute(asked))


def _logged(connection: Connection, which: ColumnElement[bool]) -> Iterator[Logged]:
    """Garments with their logs in one query, so that both are of one instant."""
    asked = (
        _garments(which)
        .add_columns(*EVENT)
        .outerjoin(EVENTS, EVENTS.c.garment_id == GARMENTS.c.id)
        .order_by(GARMENTS.c.n, EVENTS.c.seq)
    )
    for garment, lines in groupby(map(tuple, connection.execute(asked)), key=lambda row: row[: len(GARMENT)]):
        yield GarmentRow(*garment), _log([line[len(GARMENT) :] for line in lines])


def _log(lines: Sequence[tuple[Any, ...]]) -> tuple[Event, ...]:
    """The events of one garment; of a garment without any, the outer join gives one line of nothing."""
    return tuple(
        Event(event_id, seq, tap, at, station, person, happening_from_json(kind, data))
        for event_id, seq, tap, at, station, person, kind, data in lines
        if kind is not None
    )


def _event_to_row(event: Event, garment_id: UUID) -> dict[str, Any]:
    return {
        "id": event.id,
        "garment_id": garment_id,
        "seq": event.seq,
        "tap": event.tap,
        "at": event.at,
        "station": event.station,
        "person": event.person,
        "kind": kind_of(event.what),
        "data": happening_to_json(event.what),
    }
