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
from models.store.checksums import checksum_of, fits, is_text
from models.store.damage import damaged, garment_named, read_whole, sound
from models.store.errors import DamagedRecordError, GarmentMovedError, UnknownCodeError
from models.store.records import GarmentRow
from models.store.sought import sought_of
from models.store.tables import BATCHES, EVENTS, GARMENTS, KEPT_OF_GARMENT, LINE_OF_LOG
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
SEAL = (GARMENTS.c.batch_id, GARMENTS.c.seq, GARMENTS.c.checksum)
"""What is also read of a garment, to see that it is sound and its log whole."""
EVENT = (*LINE_OF_LOG, EVENTS.c.checksum)
ROWS_AT_ONCE = 1000

Asked = Select[*tuple[Any, ...]]
Logged = tuple[GarmentRow, tuple[Event, ...]]
Rows = Iterator[GarmentRow | DamagedRecordError]


def new_row(added: GarmentAdded, batch_id: UUID, garment_id: UUID, at: datetime) -> dict[str, Any]:
    """Return the row of a garment that nobody has begun."""
    kept = {
        "id": garment_id,
        "batch_id": batch_id,
        "n": added.n,
        "size": added.size,
        "wearer": added.wearer,
        "number": added.number,
        "code": added.code,
        "remake_of": added.remake_of,
        "remade_as": "",
        "taken_out": "",
    }
    return {
        **kept,
        "checksum": checksum_of(*kept.values()),
        "state": State.IDLE,
        "rest_ends_at": None,
        "station": "",
        "seq": 0,
        "updated_at": at,
        "sought": sought_of(added.wearer, added.number, added.code),
    }


def change(connection: Connection, code: str, **values: Any) -> None:
    """Change columns of a garment that no tap changes, and its checksum with them."""
    kept = connection.execute(select(*KEPT_OF_GARMENT).where(GARMENTS.c.code == code)).one()._asdict()
    changed = [values.get(name, value) for name, value in kept.items()]
    its = update(GARMENTS).where(GARMENTS.c.code == code)
    connection.execute(its.values(checksum=checksum_of(*changed), **values))


def row_of(connection: Connection, code: str) -> GarmentRow:
    """Return the garment without its log. Raises UnknownCodeError, DamagedRecordError."""
    row = next(_rows(connection, _garments(GARMENTS.c.code == code)), None)
    if row is None:
        raise UnknownCodeError(_no_such_tag(code))
    return sound(row)


def of_batch(connection: Connection, batch_id: UUID, first: int | None = None) -> Rows:
    """All of them by n, or the first ones."""
    asked = _garments(GARMENTS.c.batch_id == batch_id)
    return _rows(connection, asked.order_by(GARMENTS.c.n).limit(first))


def log_ends(connection: Connection, batch_id: UUID) -> dict[str, int]:
    """How far the log of each garment that is in the batch goes, by its code, in the order of n."""
    belongs = and_(GARMENTS.c.batch_id == batch_id, GARMENTS.c.taken_out == "")
    asked = select(GARMENTS.c.code, GARMENTS.c.seq).where(belongs).order_by(GARMENTS.c.n)
    return {row.code: row.seq for row in connection.execute(asked)}


def resting(connection: Connection) -> Rows:
    """The soonest first."""
    can_wait = GARMENTS.c.state.in_([State.RESTING, State.PEELING])
    is_waiting = and_(can_wait, GARMENTS.c.rest_ends_at.is_not(None), IN_BATCH)
    return _rows(connection, _garments(is_waiting).order_by(GARMENTS.c.rest_ends_at, GARMENTS.c.code))


def newest_at(connection: Connection) -> datetime | None:
    newest = connection.scalar(select(func.max(GARMENTS.c.updated_at)))
    return newest if isinstance(newest, datetime) else None  # a damaged one has been told with its garment


def pressing(connection: Connection, station: str) -> Rows:
    """In no order: there is one for each press at most."""
    is_pressing = and_(GARMENTS.c.state == State.PRESSING, GARMENTS.c.station == station, IN_BATCH)
    return _rows(connection, _garments(is_pressing))


def in_work(connection: Connection, station: str | None) -> Rows:
    """The last worked first."""
    asked = _garments(and_(GARMENTS.c.state.in_(sorted(IN_WORK)), IN_BATCH))
    if station is not None:
        asked = asked.where(GARMENTS.c.station == station)
    return _rows(connection, asked.order_by(GARMENTS.c.updated_at.desc(), GARMENTS.c.code))


def matching(connection: Connection, which: ColumnElement[bool], most: int) -> Rows:
    """Return the first garments of those: of open batches, then of the newest, by n."""
    is_closed = BATCHES.c.standing != Standing.OPEN
    asked = _garments(which).order_by(is_closed, BATCHES.c.id.desc(), GARMENTS.c.n)
    return _rows(connection, asked.limit(most))


def with_log(connection: Connection, code: str) -> Logged:
    """Raises UnknownCodeError, DamagedRecordError."""
    found = next(_logged(connection, GARMENTS.c.code == code), None)
    if found is None:
        raise UnknownCodeError(_no_such_tag(code))
    return sound(found)


def logs_of_batch(connection: Connection, batch_id: UUID) -> Iterator[Logged | DamagedRecordError]:
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
    return select(*GARMENT, *SEAL).join(BATCHES, BATCHES.c.id == GARMENTS.c.batch_id).where(which)


def _rows(connection: Connection, asked: Asked) -> Rows:
    return (_row(*row) for row in connection.execute(asked))


def _row(*columns: Any) -> GarmentRow | DamagedRecordError:
    *values, batch_id, seq, checksum = columns
    row = GarmentRow(*values)
    who = (row.id, batch_id, row.n, row.size, row.wearer, row.number, row.code)
    kept = (*who, row.remake_of, row.remade_as, row.taken_out)
    instants = (row.rest_ends_at or row.updated_at, row.updated_at)
    is_sound = (
        fits(checksum, *kept)
        and isinstance(row.state, State)
        and is_text(row.station)
        and isinstance(seq, int)
        and all(isinstance(instant, datetime) for instant in instants)
    )
    return row if is_sound else damaged(garment_named(row.n, row.batch_reference))


def _logged(connection: Connection, which: ColumnElement[bool]) -> Iterator[Logged | DamagedRecordError]:
    """Garments with their logs in one query, so that both are of one instant."""
    asked = (
        _garments(which)
        .add_columns(*EVENT)
        .outerjoin(EVENTS, EVENTS.c.garment_id == GARMENTS.c.id)
        .order_by(GARMENTS.c.n, EVENTS.c.seq)
    )
    end = len(GARMENT) + len(SEAL)
    for garment, lines in groupby(map(tuple, connection.execute(asked)), key=lambda line: line[:end]):
        yield _whole(garment, [line[end:] for line in lines])


def _whole(garment: tuple[Any, ...], lines: Sequence[tuple[Any, ...]]) -> Logged | DamagedRecordError:
    """The garment with its log, if both are what was stored, and no event is missing."""
    row = _row(*garment)
    if isinstance(row, DamagedRecordError):
        return row
    seq = garment[len(GARMENT) + 1]
    try:
        return row, _log(garment_named(row.n, row.batch_reference), seq, lines)
    except DamagedRecordError as error:
        return error


def _log(named: str, seq: int, lines: Sequence[tuple[Any, ...]]) -> tuple[Event, ...]:
    """The `seq` events of the garment; of one without any, the outer join gives one line of nothing."""
    events = [_event(named, n, *line) for n, line in enumerate(lines, start=1) if line[0] is not None]
    for n in range(1, seq + 1):
        if n > len(events) or events[n - 1].seq != n:
            raise damaged(f"event {n} of {named}")
    if len(events) > seq:
        raise damaged(f"how many events there are of {named}")
    return tuple(events)


def _event(named: str, n: int, *columns: Any) -> Event:
    *line, checksum = columns
    event_id, _, seq, tap, at, station, person, kind, data = line
    named = f"event {n} of {named}"
    if not fits(checksum, *line):
        raise damaged(named)
    what = read_whole(lambda: happening_from_json(kind, data), named)
    return Event(event_id, seq, tap, at, station, person, what)


def _event_to_row(event: Event, garment_id: UUID) -> dict[str, Any]:
    line = {
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
    return {**line, "checksum": checksum_of(*line.values())}
