"""A database that fails is told in one plain line, and nothing is half-stored."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any

import psycopg
import pytest
from sqlalchemy import event
from sqlalchemy.pool import Pool

from models.errors import StorageError
from models.garment.events import Held, TakenUp
from models.store.database import Database
from models.store.errors import (
    CannotOpenError,
    ConnectionLostError,
    DatabaseBusyError,
    DiskFullError,
    NotOurDatabaseError,
    ReadOnlyDatabaseError,
)
from models.store.store import Store
from tests.models.store.conftest import OpenStore
from tests.models.store.taps import first_garment, load_vests, tap
from tests.postgres_server import END_OTHERS, PostgresServer, running_server


def test_a_file_that_another_program_keeps_locked(
    tmp_path: Path, sqlite_url: str, open_store: OpenStore, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("models.store.database.BUSY_TIMEOUT_MS", 1)
    store = open_store(sqlite_url)
    load_vests(store)
    garment = first_garment(store)
    with closing(sqlite3.connect(tmp_path / "floor.db", isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        assert_one_line(DatabaseBusyError, r"floor\.db: another program keeps it locked", store, garment)
        assert store.garment(garment.row.code) == garment  # reading goes on
    assert tap(store, garment, TakenUp()).progress.seq == 1


def test_a_row_that_another_program_keeps_locked_on_a_server(
    postgres: PostgresServer, open_store: OpenStore, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("models.store.database.BUSY_TIMEOUT_MS", 1)
    url = postgres.empty_database()
    store = open_store(url)
    load_vests(store)
    garment = first_garment(store)
    with straight_at(url) as other, other.transaction():
        other.execute("SELECT * FROM garments FOR UPDATE")
        assert_one_line(DatabaseBusyError, "another program keeps it locked", store, garment)
    assert tap(store, garment, TakenUp()).progress.seq == 1


def test_a_disk_without_room(sqlite_url: str, open_store: OpenStore) -> None:
    load_vests(open_store(sqlite_url))
    with no_more_pages():
        store = open_store(sqlite_url)
        garment = first_garment(store)
        long_reason = Held("the foam is short " * 10_000)
        with pytest.raises(DiskFullError, match=r"floor\.db: no room is left on its disk"):
            tap(store, garment, long_reason)
        assert store.garment(garment.row.code) == garment


def test_a_file_that_may_only_be_read(tmp_path: Path, sqlite_url: str, open_store: OpenStore) -> None:
    load_vests(open_store(sqlite_url))
    store = open_store(f"sqlite:///file:{tmp_path / 'floor.db'}?mode=ro&uri=true")
    assert_one_line(ReadOnlyDatabaseError, "it cannot be written", store, first_garment(store))


def test_a_server_that_may_only_be_read(postgres: PostgresServer, open_store: OpenStore) -> None:
    url = postgres.empty_database()
    load_vests(open_store(url))
    store = open_store(f"{url}&options=-cdefault_transaction_read_only%3Don")
    assert_one_line(ReadOnlyDatabaseError, "it cannot be written", store, first_garment(store))


def test_a_folder_that_is_not_there(tmp_path: Path, open_store: OpenStore) -> None:
    with pytest.raises(CannotOpenError, match=r"floor\.db: the file cannot be opened; see that its folder"):
        open_store(f"sqlite:///{tmp_path / 'nowhere' / 'floor.db'}")


def test_a_damaged_file(tmp_path: Path, sqlite_url: str, open_store: OpenStore) -> None:
    store = open_store(sqlite_url)
    load_vests(store)
    store.close()
    with (tmp_path / "floor.db").open("r+b") as file:
        file.seek(4096)
        file.write(b"\xff" * 20_000)
    with pytest.raises(
        NotOurDatabaseError, match=r"floor\.db: the file is damaged; close the app .* `floorapp restore`"
    ):
        open_store(sqlite_url)


def test_a_server_that_is_not_there(tmp_path: Path, open_store: OpenStore) -> None:
    with pytest.raises(ConnectionLostError, match="see that the server runs") as told:
        open_store(f"postgresql+psycopg://ines:secret@/floor?host={tmp_path}")
    assert "secret" not in str(told.value)
    assert "\n" not in str(told.value)


def test_a_database_that_the_server_does_not_have(postgres: PostgresServer, open_store: OpenStore) -> None:
    with pytest.raises(ConnectionLostError, match='database "nowhere" does not exist; see that'):
        open_store(postgres.url_of("nowhere"))


def test_a_person_without_the_right_to_the_tables(postgres: PostgresServer, open_store: OpenStore) -> None:
    url = postgres.empty_database()
    open_store(url)
    with straight_at(url) as connection:
        connection.execute("CREATE ROLE visitor LOGIN")
    with pytest.raises(CannotOpenError, match="this person may not use it"):
        open_store(url.replace("postgres@", "visitor@"))


def test_a_connection_that_was_dropped_between_two_taps_is_made_anew(
    postgres: PostgresServer, open_store: OpenStore
) -> None:
    url = postgres.empty_database()
    store = open_store(url)
    load_vests(store)
    garment = tap(store, first_garment(store), TakenUp())
    with straight_at(url) as connection:
        connection.execute(END_OTHERS)
    assert tap(store, garment, Held("foam is short")).progress.seq == 2


def test_a_connection_that_is_dropped_within_a_transaction_stores_nothing(
    postgres: PostgresServer, open_store: OpenStore
) -> None:
    url = postgres.empty_database()
    store = open_store(url)
    load_vests(store)
    garment = first_garment(store)
    with pytest.raises(ConnectionLostError, match="its server has stopped; once it runs again, scan"):
        drop_the_connection_between_two_changes(url)
    assert store.garment(garment.row.code) == garment


def test_a_server_that_stopped(open_store: OpenStore) -> None:
    with running_server() as server:
        store = open_store(server.empty_database())
        load_vests(store)
        garment = first_garment(store)
    assert_one_line(ConnectionLostError, "see that the server runs", store, garment)


def assert_one_line(kind: type[StorageError], line: str, store: Store, garment: Any) -> None:
    """A tap fails with this kind of error, told in one line."""
    with pytest.raises(kind, match=line) as told:
        tap(store, garment, TakenUp())
    assert "\n" not in str(told.value)


def drop_the_connection_between_two_changes(url: str) -> None:
    change = "UPDATE garments SET station = 'nowhere'"
    with straight_at(url) as other, closing(Database(url)) as database, database.writing() as connection:
        connection.exec_driver_sql(change)
        other.execute(END_OTHERS)
        connection.exec_driver_sql(change)


@contextmanager
def straight_at(url: str) -> Iterator["psycopg.Connection[Any]"]:
    """A connection past the store."""
    with psycopg.connect(url.replace("+psycopg", ""), autocommit=True) as connection:
        yield connection


@contextmanager
def no_more_pages() -> Iterator[None]:
    """Files opened meanwhile may not grow: SQLite then says what it says on a full disk."""

    def limit(connection: sqlite3.Connection, _: object) -> None:
        connection.execute("PRAGMA max_page_count = 1")  # SQLite makes of it the pages there are

    event.listen(Pool, "connect", limit)
    try:
        yield
    finally:
        event.remove(Pool, "connect", limit)
