"""Verifies a whole database: the file, the checksums, the guards of the log, and the log against the rows."""

from collections import deque
from collections.abc import Callable, Iterator
from contextlib import suppress
from itertools import islice

from sqlalchemy import Connection, select, text
from sqlalchemy.exc import DBAPIError

from models.batch.standing import BatchNow, fold_batch
from models.garment.events import Event
from models.garment.progress import Progress, Recipe, fold
from models.learning.observations import rest_observations
from models.store import batch_log, batches, garments, rests
from models.store.checksums import is_text
from models.store.damage import UNREADABLE_DATA, Fence, batch_named, garment_named, read_whole
from models.store.database import Database
from models.store.errors import CannotOpenError, DamagedRecordError, NotOurDatabaseError
from models.store.records import BatchHead, GarmentRow
from models.store.revision import HEAD_REVISION, stored_revision
from models.store.sought import sought_of
from models.store.tables import BATCH_EVENTS, EVENTS, GARMENTS, SHOP
from models.store.time_limits import LONG_S

MOST_LINES = 100
"""The most lines that are printed of one kind of damage."""

TRIGGERS = {
    "sqlite": ("are_not_changed", "are_not_removed", "are_not_replaced"),
    "postgresql": ("are_not_changed", "are_not_emptied"),
}
"""What refuses a change of a log, by the kind of database; each begins with the table's name."""
TRIGGERS_THERE = {
    "sqlite": "SELECT name FROM sqlite_master WHERE type = 'trigger'",
    "postgresql": "SELECT tgname FROM pg_trigger WHERE NOT tgisinternal AND tgenabled <> 'D'",
}

OF_AN_OLDER_VERSION = (
    "an older version of this program has written it: its records are looked at once the app has opened it "
    "and brought it up to date"
)

Progressed = Callable[[int, int], None]
"""Called with how many garments were looked at, and of how many."""
Parts = Callable[[Connection, str], Iterator[Iterator[str]]]


def faults_of(database: Database, progressed: Progressed = lambda *_: None) -> tuple[str, ...]:
    """Return one line for each thing that is wrong in the database; nothing in it is changed.

    Raises StorageError if it cannot be opened, is empty, is none of this program's, or if a newer version
    has written it.
    """

    def parts(connection: Connection, revision: str) -> Iterator[Iterator[str]]:
        yield _file_faults(connection)
        if revision == HEAD_REVISION:
            yield _trigger_faults(connection)
            yield _shop_faults(connection)
            yield _record_faults(connection, progressed)
        else:
            _must_be_known(revision, database.name)
            yield iter((OF_AN_OLDER_VERSION,))

    return _gathered(database, parts)


def copy_faults(database: Database) -> tuple[str, ...]:
    """Return what is wrong in a copy: its file, and its records if this version knows their checksums.

    Raises NewerDatabaseError if a newer version has written it, or StorageError as faults_of does.
    """

    def parts(connection: Connection, revision: str) -> Iterator[Iterator[str]]:
        yield _file_faults(connection)
        if revision == HEAD_REVISION:
            yield _damaged_records(connection)
        else:
            _must_be_known(revision, database.name)

    return _gathered(database, parts)


def _must_be_known(revision: str, name: str) -> None:
    from models.store.migrating import must_be_known  # noqa: PLC0415 - it loads alembic

    must_be_known(revision, name)


def _gathered(database: Database, parts: Parts) -> tuple[str, ...]:
    faults: list[str] = []
    try:
        with database.reading(LONG_S) as connection:
            revision = stored_revision(connection, database.name)
            if revision is None:
                raise CannotOpenError(f"{database.name}: nothing is stored in it; name another file")
            for part in parts(connection, revision):
                faults.extend(_read_to_the_end(part))
    except NotOurDatabaseError:
        if not faults:
            raise  # else SQLite has told of the same damage again, at the end of the transaction
    return tuple(faults)


def _read_to_the_end(faults: Iterator[str]) -> Iterator[str]:
    """Yield the faults; a page that cannot be read is one, and the last."""
    try:
        yield from faults
    except (DBAPIError, UnicodeDecodeError) as error:
        cause = getattr(error, "orig", "its own words are damaged, too")
        yield f"the file: {cause}; what comes after that cannot be read"


def _file_faults(connection: Connection) -> Iterator[str]:
    """What SQLite itself finds; a server looks after its own files."""
    if connection.dialect.name != "sqlite":
        return
    for (line,) in connection.exec_driver_sql(f"PRAGMA integrity_check({MOST_LINES})"):
        if line != "ok":
            yield f"the file: {' '.join(str(line).split())}"
    orphans = connection.exec_driver_sql("PRAGMA foreign_key_check")
    for table, row, parent, _ in islice(orphans, MOST_LINES):
        yield f"the file: row {row} of {table} belongs to none of {parent}"


def _trigger_faults(connection: Connection) -> Iterator[str]:
    kind = connection.dialect.name
    there = set(connection.scalars(text(TRIGGERS_THERE[kind])))
    for trigger in (f"{log.name}_{name}" for log in (EVENTS, BATCH_EVENTS) for name in TRIGGERS[kind]):
        if trigger not in there:
            yield f"the log may be changed: its guard {trigger} is not there"


def _shop_faults(connection: Connection) -> Iterator[str]:
    """Every tag code begins with the shop's; a scan is refused where it does not."""
    shop = connection.scalar(select(SHOP.c.code))
    code = connection.scalar(select(GARMENTS.c.code).limit(1))
    if code is not None and not str(code).startswith(str(shop)):
        yield "the shop's code is not what its tags begin with"


def _damaged_records(connection: Connection) -> Iterator[str]:
    """Name each record whose checksum does not fit, or that cannot be read. The logs are not folded."""
    fence = Fence()
    for head in list(fence.sound(batches.heads(connection, also_withdrawn=True))):
        for read in (batch_log.log_of, lambda connection, head: batches.recipe_of(connection, head.id)):
            with suppress(DamagedRecordError), fence.noting():
                read(connection, head)
        deque(fence.sound(garments.logs_of_batch(connection, head.id)), maxlen=0)
    yield from fence.told


def _record_faults(connection: Connection, progressed: Progressed) -> Iterator[str]:
    """Name each damaged record, and each sound one that differs from its log."""
    fence = Fence()
    heads = list(fence.sound(batches.heads(connection, also_withdrawn=True)))
    yield from fence.told
    done, of = 0, sum(head.garments for head in heads)
    for head in heads:
        yield from _batch_faults(connection, head)
        yield from _missing(connection, head)
        yield from _not_found(connection, head)
        recipe = _recipe_or_fault(connection, head)
        if isinstance(recipe, str):
            yield recipe
        for logged in garments.logs_of_batch(connection, head.id):
            if isinstance(logged, DamagedRecordError):
                yield str(logged)
            elif isinstance(recipe, Recipe):
                yield from _log_faults(connection, recipe, *logged)
            done += 1
            progressed(done, max(of, done))


def _batch_faults(connection: Connection, head: BatchHead) -> Iterator[str]:
    """Whether the batch and its garments stand as the batch's own log says."""
    try:
        now = read_whole(
            lambda: fold_batch(batch_log.log_of(connection, head)),
            f"the log of {batch_named(head.reference)}",
        )
    except DamagedRecordError as error:
        yield str(error)
        return
    if (head.standing, head.priority) != (now.standing, now.priority):
        yield f"{batch_named(head.reference)}: its list says something else than its log"
    for row in garments.of_batch(connection, head.id):
        if not isinstance(row, DamagedRecordError) and not _stands_as(row, now):
            yield f"{garment_named(row.n, head.reference)}: its list says something else than the batch's log"


def _stands_as(row: GarmentRow, now: BatchNow) -> bool:
    wearer = now.wearers.get(row.code, (row.wearer, row.number))
    return (
        row.taken_out == now.taken_out.get(row.code, "")
        and row.remade_as == now.remade.get(row.code, "")
        and (row.wearer, row.number) == wearer
    )


def _recipe_or_fault(connection: Connection, head: BatchHead) -> Recipe | str:
    try:
        return batches.recipe_of(connection, head.id)
    except DamagedRecordError as error:
        return str(error)


def _missing(connection: Connection, head: BatchHead) -> Iterator[str]:
    there = set(connection.scalars(select(GARMENTS.c.n).where(GARMENTS.c.batch_id == head.id)))
    for n in range(1, head.garments + 1):
        if n not in there:
            yield f"{garment_named(n, head.reference)} is not there"


def _not_found(connection: Connection, head: BatchHead) -> Iterator[str]:
    """Name each garment whose text for finding is not made of its name, number and code."""
    written = GARMENTS.c.wearer, GARMENTS.c.number, GARMENTS.c.code
    of_batch = select(GARMENTS.c.n, GARMENTS.c.sought, *written).where(GARMENTS.c.batch_id == head.id)
    for n, sought, *words in connection.execute(of_batch):
        if all(is_text(word) for word in words) and sought != sought_of(*words):
            yield f"{garment_named(n, head.reference)}: it cannot be found by its name, number or code"


def _log_faults(
    connection: Connection, recipe: Recipe, row: GarmentRow, log: tuple[Event, ...]
) -> Iterator[str]:
    named = garment_named(row.n, row.batch_reference)
    try:
        of_size = recipe.of_size(row.size)
        progress, seen = fold(of_size, log), rest_observations(of_size, log)
    except UNREADABLE_DATA:
        yield f"{named}: its log does not follow the recipe of {batch_named(row.batch_reference)}"
        return
    for what in _differences(row, progress):
        yield f"{named}: its list says another {what} than its log"
    if rests.of_garment(connection, row.id) != seen:
        yield f"{named}: the rests learned from it are not those of its log"


def _differences(row: GarmentRow, progress: Progress) -> Iterator[str]:
    if row.state != progress.state:
        yield "state"
    if row.rest_ends_at != progress.ready_at:
        yield "end of its rest"
    if row.station != progress.station:
        yield "station"
