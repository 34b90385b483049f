"""What the store asks and tells about the batches' own logs, in the transaction it is given.

Whoever appends to a batch's log has the batch to himself until the transaction ends; taps on its garments
share it. So what is checked here of the garments still holds when the event is stored.
"""

from dataclasses import replace
from typing import Any
from uuid import UUID

from sqlalchemy import Connection, func, insert, select, update

from models.batch.events import (
    BatchClosed,
    BatchEvent,
    BatchWithdrawn,
    GarmentAdded,
    GarmentPutBack,
    GarmentTakenOut,
    WearerCorrected,
    batch_happening_from_json,
    batch_happening_to_json,
    batch_kind_of,
)
from models.batch.standing import Standing, advance_batch, fold_batch
from models.garment.cycle import ENDED, EventKind, State
from models.garment.events import Closed
from models.garment.progress import effective
from models.store import batches, garments
from models.store.checksums import checksum_of, fits
from models.store.damage import batch_named, damaged, read_whole, sound
from models.store.errors import BatchMovedError, BatchNotOpenError, NoRemedyError
from models.store.records import BatchHead, GarmentRow
from models.store.sought import sought_of
from models.store.tables import BATCH_EVENTS, BATCHES, EVENTS, GARMENTS, LINE_OF_BATCH_LOG
from models.tags.code import spoken

EVENT = (*LINE_OF_BATCH_LOG, BATCH_EVENTS.c.checksum)


def log_of(connection: Connection, head: BatchHead) -> tuple[BatchEvent, ...]:
    """Return the batch's log, the first event first. Raises DamagedRecordError."""
    asked = select(*EVENT).where(BATCH_EVENTS.c.batch_id == head.id).order_by(BATCH_EVENTS.c.seq)
    lines = connection.execute(asked).all()
    log = tuple(
        _event(f"event {n} of the log of {batch_named(head.reference)}", *line)
        for n, line in enumerate(lines, start=1)
    )
    if [event.seq for event in log] != list(range(1, head.seq + 1)):
        raise damaged(f"the log of {batch_named(head.reference)}")
    return log


def _event(named: str, *columns: Any) -> BatchEvent:
    *line, checksum = columns
    event_id, _, seq, at, station, person, kind, data = line
    if not fits(checksum, *line):
        raise damaged(named)
    what = read_whole(lambda: batch_happening_from_json(kind, data), named)
    return BatchEvent(event_id, seq, at, station, person, what)


def must_be_open(connection: Connection, head: BatchHead) -> None:
    """Let garments of the batch be worked until this transaction ends. Raises BatchNotOpenError."""
    asked = select(BATCHES.c.standing).where(BATCHES.c.id == head.id).with_for_update(read=True)
    standing = connection.scalars(asked).one()
    if standing == Standing.CLOSED:
        raise BatchNotOpenError(f"batch {head.reference} is closed; reopen it on its Review, then go on")
    if standing == Standing.WITHDRAWN:
        raise BatchNotOpenError(f"batch {head.reference} was taken back; do not press this garment")


def keep_to_oneself(connection: Connection, head: BatchHead) -> None:
    """Keep everybody else from the batch until this transaction ends.

    Raises BatchMovedError if its log goes on after what `head` has seen.
    """
    asked = select(BATCHES.c.seq).where(BATCHES.c.id == head.id).with_for_update()
    if connection.scalars(asked).one() != head.seq:
        last = log_of(connection, batches.find_by_id(connection, head.id))[-1]
        what = batch_kind_of(last.what).value
        raise BatchMovedError(
            f"batch {head.reference} was changed at {last.station} meanwhile ({what}); look at it again"
        )


def append(connection: Connection, head: BatchHead, event: BatchEvent) -> BatchHead:
    """Add an event to the log of the batch, which becomes what is returned; see `keep_to_oneself`.

    Raises:
        IllegalEventError: the batch does not stand so that this can happen.
        NoRemedyError: a garment of it is not in a state for this.
    """
    now = advance_batch(fold_batch(log_of(connection, head)), event)
    after = replace(
        _with_effect(connection, head, event), standing=now.standing, priority=now.priority, seq=event.seq
    )
    connection.execute(update(BATCHES).where(BATCHES.c.id == head.id).values(batches.sealed_head(after)))
    connection.execute(insert(BATCH_EVENTS), [_event_to_row(event, head.id)])
    return after


def next_n(connection: Connection, head: BatchHead) -> int:
    """Return the number that the next garment of the batch gets."""
    highest = select(func.max(GARMENTS.c.n)).where(GARMENTS.c.batch_id == head.id)
    return (connection.scalar(highest) or 0) + 1


def _with_effect(connection: Connection, head: BatchHead, event: BatchEvent) -> BatchHead:
    """Change the garments as the event says."""
    match event.what:
        case GarmentAdded() as added:
            _add(connection, head, event, added)
            return replace(head, garments=max(head.garments, added.n))
        case GarmentTakenOut(code, reason):
            _must_be_left_to_do(garments.row_of(connection, code))
            _change(connection, event, code, taken_out=reason)
        case GarmentPutBack(code):
            _change(connection, event, code, taken_out="")
        case WearerCorrected(code, wearer, number):
            sought = sought_of(wearer, number, code)
            _change(connection, event, code, wearer=wearer, number=number, sought=sought)
        case BatchClosed():
            _must_have_ended(connection, head)
        case BatchWithdrawn(reference):
            _must_be_unpressed(connection, head)
            return replace(head, reference=_reference_once_withdrawn(connection, reference))
    return head


def _change(connection: Connection, event: BatchEvent, code: str, **values: Any) -> None:
    garments.change(connection, code, updated_at=event.at, **values)


def _add(connection: Connection, head: BatchHead, event: BatchEvent, added: GarmentAdded) -> None:
    if added.remake_of:
        spoiled = garments.row_of(connection, added.remake_of)
        if spoiled.state != State.SPOILED:
            raise NoRemedyError(
                f"{spoken(spoiled.code)} is {spoiled.state.value}; only a spoiled garment is made again"
            )
        _change(connection, event, spoiled.code, remade_as=added.code)
    row = garments.new_row(added, head.id, event.id, event.at)
    connection.execute(insert(GARMENTS), [row])


def _must_be_left_to_do(row: GarmentRow) -> None:
    if row.state in ENDED:
        raise NoRemedyError(f"{spoken(row.code)} is {row.state.value}; nothing more is done with it anyway")
    if row.state == State.PRESSING:
        raise NoRemedyError(f"{spoken(row.code)} is under the closed press; open the press first")


def _must_have_ended(connection: Connection, head: BatchHead) -> None:
    rows = map(sound, garments.of_batch(connection, head.id))
    left = [row for row in rows if row.state not in ENDED and not row.taken_out]
    if left:
        are = "garment is" if len(left) == 1 else "garments are"
        codes = ", ".join(spoken(row.code) for row in left[:3]) + (" …" if len(left) > 3 else "")
        raise NoRemedyError(
            f"{len(left)} {are} still to be finished ({codes}); finish them or take them out, then close"
        )


def _must_be_unpressed(connection: Connection, head: BatchHead) -> None:
    """A closing that was taken back was none."""
    closed = (
        select(GARMENTS.c.code)
        .join(EVENTS, EVENTS.c.garment_id == GARMENTS.c.id)
        .where(GARMENTS.c.batch_id == head.id, EVENTS.c.kind == EventKind.CLOSED)
        .distinct()
    )
    for code in sorted(connection.scalars(closed)):
        _, log = garments.with_log(connection, code)
        if any(isinstance(event.what, Closed) for event in effective(log)):
            raise NoRemedyError(
                f"{spoken(code)} has been pressed, so batch {head.reference} stays; "
                "take out the garments that are not wanted"
            )


def _reference_once_withdrawn(connection: Connection, reference: str) -> str:
    """No job file can give such a reference, so the batch's own one is free again."""
    earlier = select(func.count()).where(BATCHES.c.reference.startswith(f"{reference} (", autoescape=True))
    return f"{reference} (taken back {(connection.scalar(earlier) or 0) + 1})"


def _event_to_row(event: BatchEvent, batch_id: UUID) -> dict[str, Any]:
    line = {
        "id": event.id,
        "batch_id": batch_id,
        "seq": event.seq,
        "at": event.at,
        "station": event.station,
        "person": event.person,
        "kind": batch_kind_of(event.what),
        "data": batch_happening_to_json(event.what),
    }
    return {**line, "checksum": checksum_of(*line.values())}
