"""The shop's store for one command: opened, and closed again at its end."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

import click

from floorapp.database_names import database_url

if TYPE_CHECKING:
    from models.store.store import Store


@contextmanager
def open_store(
    database: str | None, *, reads_only: bool = False, may_be_new: bool = False, is_new_meant: bool = False
) -> "Iterator[Store]":
    """The shop's store, closed in the end, and what was damaged in it told.

    It has to be there unless it `may_be_new`; if it has gone since the last start, a new one has to be meant.
    One that is only read may be read-only.
    """
    from floorapp.known_databases import known_databases
    from models.clock import SteadyClock, SystemClock
    from models.floor.work import open_store as open_shop
    from models.store.database import must_be_there

    url, known = database_url(database), known_databases()
    if not is_new_meant:
        begin = "begin a new one with `floorapp load --new-database JOB`"
        known.must_not_have_vanished(url, f"`floorapp restore` a copy, or {begin}")
    if not may_be_new:
        must_be_there(url)
    clock = SteadyClock(SystemClock())
    store = open_shop(url, clock, reads_only=reads_only)
    clock.follow(store.server_ahead_s())
    known.remember(url)
    try:
        yield store
        for line in store.damaged:
            click.echo(line, err=True)
    finally:
        store.close()
