"""A store for each test, on both databases: an SQLite file and a database of a private PostgreSQL server."""

from collections.abc import Callable, Iterator
from pathlib import Path
from random import Random

import pytest

from models.store.store import Store
from tests.held_clock import HeldClock
from tests.postgres_server import PostgresServer, running_server

OpenStore = Callable[..., Store]


@pytest.fixture(scope="session")
def postgres() -> Iterator[PostgresServer]:
    with running_server() as server:
        yield server


@pytest.fixture
def sqlite_url(tmp_path: Path) -> str:
    return f"sqlite:///{tmp_path / 'floor.db'}"


@pytest.fixture(params=["sqlite", "postgresql"])
def url(request: pytest.FixtureRequest) -> str:
    if request.param == "sqlite":
        return str(request.getfixturevalue("sqlite_url"))
    server: PostgresServer = request.getfixturevalue("postgres")
    return server.empty_database()


@pytest.fixture
def clock() -> HeldClock:
    return HeldClock()


@pytest.fixture
def open_store(clock: HeldClock) -> Iterator[OpenStore]:
    """Opens stores, each with randomness of its own, and closes them in the end."""
    opened: list[Store] = []

    def opener(url: str) -> Store:
        opened.append(Store.open(url, clock, Random(len(opened))))
        return opened[-1]

    yield opener
    for store in opened:
        store.close()


@pytest.fixture
def store(open_store: OpenStore, url: str) -> Store:
    return open_store(url)
