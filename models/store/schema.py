"""Bringing a database to the form that this program knows, when it is opened."""

from models.clock import Clock
from models.store.database import Database
from models.store.errors import CannotOpenError, ReadOnlyDatabaseError
from models.store.revision import HEAD_REVISION, stored_revision


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
