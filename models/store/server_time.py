"""The server's clock, which all stations on one database go by."""

from sqlalchemy import Connection, text

from models.clock import Clock
from models.garment.countdown import NS_PER_S

ASKED = 3
"""So often the server is asked: the quickest answer tells its clock best."""


def ahead_s(connection: Connection, clock: Clock) -> float:
    """Return by how many seconds the server's clock is ahead of `clock`.

    The server is taken to have read its clock half way between the question and the answer.
    """
    return min(_asked(connection, clock) for _ in range(ASKED))[1]


def _asked(connection: Connection, clock: Clock) -> tuple[float, float]:
    """Return how long the answer took, and by how much the server's clock was ahead; both in seconds."""
    here, before_ns = clock.utc_now(), clock.monotonic_ns()
    there = connection.scalars(text("SELECT clock_timestamp()")).one()
    took_s = (clock.monotonic_ns() - before_ns) / NS_PER_S
    return took_s, (there - here).total_seconds() - took_s / 2
