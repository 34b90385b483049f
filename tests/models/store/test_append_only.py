"""The database itself refuses to change, replace or remove an event."""

import pytest
from sqlalchemy import create_engine, text
from sqlalchemy.exc import DBAPIError

from models.garment.events import TakenUp
from models.store.store import Store
from tests.models.store.conftest import OpenStore
from tests.models.store.taps import first_garment, load_vests, tap
from tests.postgres_server import PostgresServer

CHANGES = ("UPDATE events SET person = 'nobody'", "UPDATE events SET seq = seq + 1", "DELETE FROM events")


@pytest.mark.parametrize("change", CHANGES)
def test_no_event_is_changed_or_removed(store: Store, url: str, change: str) -> None:
    must_refuse(store, url, change)


def test_no_event_is_replaced_in_a_file(open_store: OpenStore, sqlite_url: str) -> None:
    must_refuse(open_store(sqlite_url), sqlite_url, "INSERT OR REPLACE INTO events SELECT * FROM events")


def test_the_log_is_not_emptied_on_a_server(open_store: OpenStore, postgres: PostgresServer) -> None:
    url = postgres.empty_database()
    must_refuse(open_store(url), url, "TRUNCATE events")


def must_refuse(store: Store, url: str, change: str) -> None:
    """Past the store, straight at the database."""
    load_vests(store)
    kept = tap(store, first_garment(store), TakenUp())
    engine = create_engine(url)
    with pytest.raises(DBAPIError, match="events are never"), engine.begin() as connection:
        connection.execute(text(change))
    engine.dispose()
    assert store.garment(kept.row.code) == kept
