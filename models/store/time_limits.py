"""Limits how long a database server may stay silent, so that no tap waits for ever.

A server that hangs still holds its end of the connection: neither its own time limits nor those of TCP end
the wait. So each use of a connection is watched here. When its time is over, the connection is cut, and the
driver reports it as lost.
"""

import socket
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from typing import Any

from sqlalchemy import Connection, Engine, event
from sqlalchemy.exc import DBAPIError, DisconnectionError

from models.store.errors import ConnectionLostError

CONNECT_TIMEOUT_S = 5
QUICK_S = 8.0
"""The longest that a tap, or what a screen lists, may take. Another's lock is waited for less long."""
LONG_S = 120.0
"""The longest that a whole log or a new batch of thousands of garments may take."""
WATCH = "watch"


class Watch:
    """Cuts a connection of psycopg when its time is over, unless `end` comes before."""

    def __init__(self, connection: Any, limit_s: float) -> None:
        self._connection = connection
        self.has_cut = False
        self._start(limit_s)

    def extend(self, limit_s: float) -> None:
        """Give it so long from now on."""
        self.end()
        self._start(limit_s)

    def end(self) -> None:
        self._timer.cancel()

    def _start(self, limit_s: float) -> None:
        self._timer = threading.Timer(limit_s, self._cut)
        self._timer.daemon = True
        self._timer.start()

    def _cut(self) -> None:
        from psycopg import Error  # noqa: PLC0415 - a tablet with a file needs no driver of servers

        self.has_cut = True
        with suppress(OSError, Error):  # it is closed already
            wire = socket.socket(fileno=self._connection.fileno())
            try:
                wire.shutdown(socket.SHUT_RDWR)
            finally:
                wire.detach()  # the driver closes its own connection


def limit_times(engine: Engine) -> None:
    """Watch every connection of the engine from its checkout to its return.

    A connection that a restarted server or a sleeping tablet has dropped is found out and made anew.
    """

    @event.listens_for(engine, "checkout")
    def check_out(connection: Any, record: Any, _: Any) -> None:
        record.info[WATCH] = watch = Watch(connection, QUICK_S)
        try:
            connection.execute("SELECT 1")
            connection.rollback()
        except engine.dialect.loaded_dbapi.Error as error:
            watch.end()
            if watch.has_cut:
                raise ConnectionLostError(silent_for(QUICK_S)) from error
            raise DisconnectionError from error

    @event.listens_for(engine, "checkin")
    def check_in(_connection: Any, record: Any) -> None:
        watch = record.info.pop(WATCH, None)
        if watch is not None:
            watch.end()


@contextmanager
def within(connection: Connection, limit_s: float | None) -> Iterator[None]:
    """Let what is done inside take so long in all, or QUICK_S; on a file nothing is watched.

    Raises ConnectionLostError if the server was silent for longer.
    """
    watch: Watch | None = connection.info.get(WATCH)
    limit_s = limit_s or QUICK_S
    if watch is not None:
        watch.extend(limit_s)
    try:
        yield
    except DBAPIError as error:
        if watch is not None and watch.has_cut:
            raise ConnectionLostError(silent_for(limit_s)) from error
        raise


def silent_for(limit_s: float) -> str:
    return (
        f"the database server has not answered for {limit_s:.0f} s; see that it runs and that the network is "
        "up, then do the last step again"
    )
