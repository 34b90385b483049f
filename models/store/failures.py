"""Failures of the database, told once, at the store's edge, in one plain line each."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy.exc import DBAPIError, SQLAlchemyError

from models.errors import StorageError
from models.store.errors import (
    CannotOpenError,
    ConnectionLostError,
    DatabaseBusyError,
    DiskFullError,
    NotOurDatabaseError,
    ReadOnlyDatabaseError,
)

Told = tuple[type[StorageError], str]

DAMAGED_FILE = (
    "the file is damaged; close the app at every station, then `floorapp restore` a copy "
    "(copying one over it would destroy that, too)"
)
BUSY: Told = (DatabaseBusyError, "another program keeps it locked; wait a moment and try again")
FULL: Told = (DiskFullError, "no room is left on its disk; make room, then do the last step again")
READ_ONLY: Told = (ReadOnlyDatabaseError, "it cannot be written; give this person the right to write it")
NO_FILE: Told = (CannotOpenError, "the file cannot be opened; see that its folder exists and may be written")
NO_RIGHT: Told = (CannotOpenError, "this person may not use it; ask whoever looks after the database")
NOT_ONE: Told = (
    NotOurDatabaseError,
    "this file is no database; name another, or `floorapp restore` a copy in its place",
)
DAMAGED: Told = (NotOurDatabaseError, DAMAGED_FILE)
DISK_FAILS: Told = (StorageError, "the disk failed to read or write; look to the disk before going on")
LOST: Told = (ConnectionLostError, "its server has stopped; once it runs again, scan the tag again")

PRIMARY = 0xFF
"""SQLite's extended result codes hold the primary one in their lowest byte."""

SQLITE_CODES: dict[int, Told] = {
    sqlite3.SQLITE_BUSY: BUSY,
    sqlite3.SQLITE_LOCKED: BUSY,
    sqlite3.SQLITE_FULL: FULL,
    sqlite3.SQLITE_READONLY: READ_ONLY,
    sqlite3.SQLITE_CANTOPEN: NO_FILE,
    sqlite3.SQLITE_PERM: NO_RIGHT,
    sqlite3.SQLITE_AUTH: NO_RIGHT,
    sqlite3.SQLITE_NOTADB: NOT_ONE,
    sqlite3.SQLITE_CORRUPT: DAMAGED,
    sqlite3.SQLITE_IOERR: DISK_FAILS,
}
"""By primary result code. Source: sqlite.org/rescode.html."""

SQLSTATES: dict[str, Told] = {
    "55P03": BUSY,  # lock_not_available
    "57014": BUSY,  # query_canceled, by a time limit
    "53100": FULL,  # disk_full
    "25006": READ_ONLY,  # read_only_sql_transaction
    "42501": NO_RIGHT,  # insufficient_privilege
    "58030": DISK_FAILS,  # io_error
    "57P01": LOST,  # admin_shutdown
    "57P02": LOST,  # crash_shutdown
    "57P03": LOST,  # cannot_connect_now
}
"""Source: PostgreSQL 15, appendix A, "PostgreSQL Error Codes"."""


@contextmanager
def told_plainly(database: str) -> Iterator[None]:
    """Turns every failure of the database called `database` into a StorageError."""
    try:
        yield
    except (DBAPIError, sqlite3.Error) as error:
        kind, line = _told(error)
        raise kind(f"{database}: {line}") from error
    except UnicodeDecodeError as error:  # the damage stands in the words of SQLite's own refusal
        kind, line = DAMAGED
        raise kind(f"{database}: {line}") from error
    except SQLAlchemyError as error:
        raise StorageError(f"{database}: {_first_line(error)}") from error


def _told(error: Exception) -> Told:
    cause = getattr(error, "orig", None) or error
    unforeseen = StorageError, _first_line(cause)
    if hasattr(cause, "sqlite_errorcode"):
        return SQLITE_CODES.get(cause.sqlite_errorcode & PRIMARY, unforeseen)
    match getattr(cause, "sqlstate", ""):
        case None:  # the server was never reached, or is gone: the driver's own words say which
            return (
                ConnectionLostError,
                f"{_first_line(cause)}; see that the server runs and knows these names",
            )
        case sqlstate:
            return SQLSTATES.get(sqlstate, unforeseen)


def _first_line(error: BaseException) -> str:
    return str(error).strip().splitlines()[0]
