"""A server that hangs is given up after a time, told in a line, and found again when it goes on."""

import threading
from collections.abc import Iterator
from pathlib import Path

import pytest

from models.garment.events import TakenUp
from models.store.errors import ConnectionLostError
from models.store.store import Store
from tests.models.store.conftest import OpenStore
from tests.models.store.taps import first_garment, load_vests, tap
from tests.postgres_server import PostgresServer

SILENT = "the database server has not answered for"


@pytest.fixture
def store(
    postgres: PostgresServer, open_store: OpenStore, monkeypatch: pytest.MonkeyPatch
) -> Iterator[Store]:
    """A batch on a server that gets half a second for a tap."""
    store = open_store(postgres.empty_database())
    load_vests(store)
    monkeypatch.setattr("models.store.time_limits.QUICK_S", 0.5)
    yield store
    monkeypatch.undo()


def test_a_tap_on_a_server_that_hangs_is_given_up(store: Store, postgres: PostgresServer) -> None:
    garment = first_garment(store)
    with postgres.hanging(), pytest.raises(ConnectionLostError, match=SILENT):
        tap(store, garment, TakenUp())


def test_a_server_that_hangs_in_the_midst_of_a_transaction_is_given_up(
    store: Store, postgres: PostgresServer
) -> None:
    with (
        pytest.raises(ConnectionLostError, match=SILENT),
        store._database.writing() as connection,
        postgres.hanging(),
    ):
        connection.exec_driver_sql("SELECT 1")


def test_a_server_that_goes_on_takes_taps_again(
    store: Store, postgres: PostgresServer, monkeypatch: pytest.MonkeyPatch
) -> None:
    garment = first_garment(store)
    with postgres.hanging(), pytest.raises(ConnectionLostError):
        tap(store, garment, TakenUp())
    monkeypatch.undo()
    garment = first_garment(store)

    assert tap(store, garment, TakenUp()).progress.seq == garment.progress.seq + 1


def test_no_watch_is_left_running_after_a_tap(store: Store) -> None:
    tap(store, first_garment(store), TakenUp())

    watches = [thread for thread in threading.enumerate() if isinstance(thread, threading.Timer)]
    assert all(watch.finished.is_set() for watch in watches)


def test_a_file_is_not_watched(
    tmp_path: Path, open_store: OpenStore, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("models.store.time_limits.QUICK_S", 1e-9)
    store = open_store(f"sqlite:///{tmp_path / 'floor.db'}")
    load_vests(store)

    assert tap(store, first_garment(store), TakenUp()).progress.seq == 1
