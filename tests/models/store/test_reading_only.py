"""A database opened only to be read: all that is stored is there, and nothing gets into it."""

from collections.abc import Callable, Iterator
from pathlib import Path
from random import Random

import pytest

from models.garment.cycle import State
from models.garment.events import TakenUp
from models.store.database import Database
from models.store.errors import CannotOpenError, ReadOnlyDatabaseError
from models.store.store import Store
from tests.held_clock import HeldClock
from tests.models.store.conftest import OpenStore
from tests.models.store.taps import first_garment, load_vests, tap
from tests.models.store.test_opening import make_old

Read = Callable[[], Store]


@pytest.fixture
def read(sqlite_url: str, monkeypatch: pytest.MonkeyPatch) -> Iterator[Read]:
    """Opens the file for a person without the right to write it, whoever runs the tests."""
    opened: list[Store] = []

    def opener() -> Store:
        monkeypatch.setattr(Database, "may_be_written", False)
        opened.append(Store.open_to_read(sqlite_url, HeldClock(), Random(9)))
        return opened[-1]

    yield opener
    for store in opened:
        store.close()


def test_what_was_stored_is_read(sqlite_url: str, open_store: OpenStore, read: Read) -> None:
    store = open_store(sqlite_url)
    load_vests(store)
    store.close()

    assert read().batch("LC-0147").name == "Lightship crew vests"


def test_a_tap_that_still_stands_in_the_log_beside_the_file_is_read(
    tmp_path: Path, sqlite_url: str, open_store: OpenStore, read: Read
) -> None:
    """The floor goes on at the station that has the file open."""
    store = open_store(sqlite_url)
    load_vests(store)
    tap(store, first_garment(store), TakenUp())

    assert (tmp_path / "floor.db-wal").stat().st_size
    assert first_garment(read()).progress.state == State.LAYING


def test_nothing_can_be_stored(sqlite_url: str, open_store: OpenStore, read: Read) -> None:
    store = open_store(sqlite_url)
    load_vests(store)
    store.close()
    reading = read()

    with pytest.raises(ReadOnlyDatabaseError, match=r"floor\.db: it cannot be written"):
        tap(reading, first_garment(reading), TakenUp())


def test_an_older_file_says_what_it_would_need(sqlite_url: str, read: Read) -> None:
    make_old(sqlite_url)

    with pytest.raises(ReadOnlyDatabaseError, match="give this person the right to write it once"):
        read()


def test_an_older_file_that_may_be_written_is_migrated(sqlite_url: str) -> None:
    make_old(sqlite_url)
    store = Store.open_to_read(sqlite_url, HeldClock(), Random(9))

    assert store.batch("OLD-1").name == "Buoy crew"
    store.close()


def test_a_file_that_is_not_there_is_not_made(tmp_path: Path, sqlite_url: str) -> None:
    with pytest.raises(CannotOpenError, match="there is no such database"):
        Store.open_to_read(sqlite_url, HeldClock(), Random(9))
    assert list(tmp_path.iterdir()) == []


def test_a_name_that_means_something_in_an_address_is_only_a_name(
    tmp_path: Path, open_store: OpenStore, monkeypatch: pytest.MonkeyPatch
) -> None:
    url = f"sqlite:///{tmp_path / 'spring 50% #2.db'}"
    store = open_store(url)
    load_vests(store)
    store.close()
    monkeypatch.setattr(Database, "may_be_written", False)
    reading = Store.open_to_read(url, HeldClock(), Random(9))

    assert reading.batch("LC-0147").garments == 2
    reading.close()
