"""The way to the database: how it is opened, and the two kinds of transaction."""

import os
import sqlite3
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from functools import partial
from pathlib import Path
from typing import Any

from sqlalchemy import URL, Connection, Engine, create_engine, event, text
from sqlalchemy.exc import OperationalError

from models.store.address import address_of, told
from models.store.errors import CannotOpenError
from models.store.failures import told_plainly
from models.store.identity import FileIdentity
from models.store.time_limits import CONNECT_TIMEOUT_S, LONG_S, limit_times, within

BUSY_TIMEOUT_MS = 5000
SWITCH_WAIT_MS = 50
ONLY_OURS = 0o600
ONE_AT_A_TIME = 7206831
"""Any number, as long as every station uses the same: the name of a lock on the server."""
TEXT = partial(str, encoding="utf-8", errors="surrogateescape")
"""How text is read from a file: damaged bytes do not end the reading of all rows."""
BEGINNING = "beginning"
"""The option that says with which statement a transaction on a file begins; BEGIN IMMEDIATE if left out."""


class Database:
    """An SQLite file or a PostgreSQL database. `name` tells a person which; `file` is None on a server.

    Through one that `reads_only`, nothing can be written to the file.
    """

    def __init__(self, url: str, *, reads_only: bool = False) -> None:
        address = address_of(url)
        on_server = address.get_backend_name() == "postgresql"
        self.file = None if on_server else Path(address.database or "")
        self.name = told(address) if on_server else str(self.file)
        if self.file is None:
            self._engine = _server_engine(address)
        else:
            self._engine = _reading_engine(address, self.file) if reads_only else _file_engine(address)
            self._identity = FileIdentity(self.file)
            event.listen(self._engine, "close", self._identity.forget_log)

    @property
    def may_be_written(self) -> bool:
        """Whether this person has the right to write the file, and beside it; a server answers for itself."""
        return self.file is None or all(os.access(at, os.W_OK) for at in (self.file, self.file.parent))

    def must_be_there(self) -> None:
        """Raises CannotOpenError where there is no such file yet; a server answers for itself."""
        if self.file is not None and not self.file.exists():
            raise CannotOpenError(
                f"{self.name}: there is no such database; check its name, or load a job first"
            )

    @contextmanager
    def reading(self, limit_s: float | None = None) -> Iterator[Connection]:
        """A transaction that only reads, and keeps nobody from writing. A server gets `limit_s` for it,
        or as long as a tap may take.

        Raises StorageError.
        """
        engine = self._engine.execution_options(**{BEGINNING: "BEGIN"})
        with told_plainly(self.name), _begun(engine, limit_s) as connection:
            self._must_be_the_same(with_log=False)
            yield connection

    @contextmanager
    def writing(self, limit_s: float | None = None) -> Iterator[Connection]:
        """A transaction that is on the disk when the block ends; an error in the block undoes all of it.
        A server gets `limit_s` for it, or as long as a tap may take.

        Raises StorageError.
        """
        with told_plainly(self.name), _begun(self._engine, limit_s) as connection:
            self._must_be_the_same(with_log=True)
            yield connection
            self._must_be_the_same(with_log=True)

    def use_write_ahead_log(self) -> None:
        """From now on readers and writers of the file do not wait for each other; the file remembers it.

        Raises StorageError.
        """
        if self.file is None:
            return
        engine = self._engine.execution_options(**{BEGINNING: ""})
        with told_plainly(self.name), engine.connect() as connection:
            if connection.exec_driver_sql("PRAGMA journal_mode").scalar() != "wal":
                _switch_to_wal(connection)

    def make_private(self) -> None:
        """Make the file if it is not there, so that only this person may read it and what lies beside it."""
        if self.file is not None:
            with suppress(OSError):  # it is there; or SQLite says why it cannot be made
                os.close(os.open(self.file, os.O_CREAT | os.O_EXCL, ONLY_OURS))

    def _must_be_the_same(self, *, with_log: bool) -> None:
        """Raises DatabaseReplacedError if the file is not the one that was opened; a server keeps its own."""
        if self.file is not None:
            self._identity.must_be_the_same(with_log=with_log)

    def close(self) -> None:
        self._engine.dispose()


@contextmanager
def _begun(engine: Engine, limit_s: float | None) -> Iterator[Connection]:
    """A transaction that commits at the end of the block."""
    with engine.connect() as connection, within(connection, limit_s), connection.begin():
        yield connection


def must_be_there(url: str) -> None:
    """Raises CannotOpenError if there is no such file."""
    database = Database(url)
    database.close()
    database.must_be_there()


@contextmanager
def opened_to_look(url: str) -> Iterator[Database]:
    """A database that is there, opened for whoever changes nothing in it, and closed in the end.

    Raises CannotOpenError where there is no such file.
    """
    database = Database(url)
    database.must_be_there()
    if not database.may_be_written:
        database = Database(url, reads_only=True)
    try:
        yield database
    finally:
        database.close()


def _switch_to_wal(connection: Connection) -> None:
    """SQLite does not wait for others at this one statement, so we do."""
    waits_left = BUSY_TIMEOUT_MS // SWITCH_WAIT_MS
    while True:
        try:
            connection.exec_driver_sql("PRAGMA journal_mode = WAL")
        except OperationalError as error:
            is_busy = getattr(error.orig, "sqlite_errorcode", 0) & 0xFF == sqlite3.SQLITE_BUSY
            if not (is_busy and waits_left):
                raise
            waits_left -= 1
            time.sleep(SWITCH_WAIT_MS / 1000)
        else:
            return


def wait_for_turn(connection: Connection) -> None:
    """Until this transaction ends, nobody else's goes past this line; on SQLite that holds of any writer."""
    if connection.dialect.name == "postgresql":
        connection.execute(text("SELECT pg_advisory_xact_lock(:key)"), {"key": ONE_AT_A_TIME})


def _file_engine(address: URL) -> Engine:
    engine = create_engine(address)
    event.listen(engine, "connect", _set_up_file)
    event.listen(engine, "begin", _begin)
    return engine


def reading_uri(file: Path) -> str:
    """Return the name by which a file is opened so that nothing is written to it, nor beside it."""
    # Where a log (-wal) lies beside the file, some of what was stored is only there: whoever reads both needs
    # an index beside them, which is made where it is missing. Without a log all is in the file, and a file
    # that is called immutable is read with nothing beside it.
    log = file.with_name(f"{file.name}-wal")
    how = "mode=ro" if log.exists() and log.stat().st_size else "immutable=1"
    return f"{file.absolute().as_uri()}?{how}"


def _reading_engine(address: URL, file: Path) -> Engine:
    uri = reading_uri(file)
    engine = create_engine(address, creator=lambda: sqlite3.connect(uri, uri=True, check_same_thread=False))
    event.listen(engine, "connect", _set_up_file)
    event.listen(engine, "begin", _begin)
    return engine


def _set_up_file(connection: Any, _: Any) -> None:
    # Left to itself the driver begins a transaction only at the first write: what was read before may be
    # out of date by then, and an update of another station is overwritten. So _begin begins it.
    connection.isolation_level = None
    connection.text_factory = TEXT
    connection.execute(f"PRAGMA busy_timeout = {BUSY_TIMEOUT_MS}")
    connection.execute("PRAGMA synchronous = FULL")
    connection.execute("PRAGMA foreign_keys = ON")


def _begin(connection: Connection) -> None:
    statement = connection.get_execution_options().get(BEGINNING, "BEGIN IMMEDIATE")
    if statement:
        connection.exec_driver_sql(statement)


def _server_engine(address: URL) -> Engine:
    engine = create_engine(
        address, pool_timeout=CONNECT_TIMEOUT_S, connect_args={"connect_timeout": CONNECT_TIMEOUT_S}
    )
    event.listen(engine, "connect", _set_up_server)
    limit_times(engine)
    return engine


def _set_up_server(connection: Any, _: Any) -> None:
    connection.execute(f"SET lock_timeout = {BUSY_TIMEOUT_MS}")
    connection.execute(f"SET statement_timeout = {round(LONG_S * 1000)}")
    # A server may be set to confirm before the disk has it; our own transactions wait for the disk.
    connection.execute(
        "SELECT set_config('synchronous_commit', 'on', false)"
        " WHERE current_setting('synchronous_commit') = 'off'"
    )
    connection.commit()
