"""Bringing a database to the form that this program knows, when it is opened."""

from sqlalchemy import Connection, inspect, text

from models.clock import Clock
from models.store.database import Database
from models.store.errors import CannotOpenError, NotOurDatabaseError, ReadOnlyDatabaseError
from models.store.failures import DAMAGED_FILE

HEAD_REVISION = "0006"
"""The last migration. It stands here so that opening an up-to-date database need not load them."""

VERSION_TABLE = "alembic_version"
OURS_FROM_THE_FIRST = {VERSION_TABLE, "shop", "batches", "garments", "events"}
"""Other programs name their migrations, too, and some of them as we do."""


def bring_to_head(database: Database, clock: Clock) -> None:
    """Makes the tables of a new database and migrates an older one; a file is copied first.

    Raises:
        NotOurDatabaseError: its tables are those of another program.
        NewerDatabaseError: a newer version of this program has written it.
        StorageError: it could not be opened, read or written.
    """
    database.make_private()
    with database.reading() as connection:
        revision = stored_revision(connection, database.name)
    if revision != HEAD_REVISION:
        from models.store.migrating import migrate  # noqa: PLC0415 - it loads alembic, which takes its time

        migrate(database, clock)
    database.use_write_ahead_log()  # not before: until here the file may be another program's


def must_not_be_empty(database: Database) -> None:
    """For whoever only looks at a database. Raises CannotOpenError if nothing is in it yet."""
    with database.reading() as connection:
        if stored_revision(connection, database.name) is None:
            raise CannotOpenError(f"{database.name}: nothing is stored in it; load a job first")


def must_be_at_head(database: Database) -> None:
    """For a database that is only read. Raises ReadOnlyDatabaseError where it would have to be migrated."""
    with database.reading() as connection:
        revision = stored_revision(connection, database.name)
    if revision != HEAD_REVISION:
        raise ReadOnlyDatabaseError(
            f"{database.name}: another version of this program has written it, and it cannot be brought up "
            "to date; give this person the right to write it once"
        )


def stored_revision(connection: Connection, name: str) -> str | None:
    """Return the migration that the database was last brought to; None if it is empty.

    Raises NotOurDatabaseError if it is another program's, or if ours has lost this note.
    """
    tables = inspect(connection).get_table_names()
    if not tables:
        return None
    if not OURS_FROM_THE_FIRST.issubset(tables):
        raise NotOurDatabaseError(
            f"{name}: this is the database of another program; name one of its own for this"
        )
    revision = connection.scalar(text(f"SELECT version_num FROM {VERSION_TABLE}"))
    if revision is None:
        raise NotOurDatabaseError(f"{name}: {DAMAGED_FILE}")
    return str(revision)
