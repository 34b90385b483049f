"""Time is handed in: a clock that the system drives and that tests can hold still."""

import time
from datetime import UTC, datetime, timedelta
from typing import Protocol


class Clock(Protocol):
    """Two readings: UTC for the record, monotonic nanoseconds for countdowns."""

    def utc_now(self) -> datetime:
        """The instant, with its time zone (UTC)."""
        ...

    def monotonic_ns(self) -> int:
        """Nanoseconds that never go back; only differences mean anything."""
        ...


class SystemClock:
    """The computer's own clock."""

    def utc_now(self) -> datetime:
        return datetime.now(UTC)

    def monotonic_ns(self) -> int:
        return time.monotonic_ns()


class HeldClock:
    """A clock that stands still until it is moved: for a batch walked without a person, and for tests.

    UTC and monotonic time move together, but while the machine is suspended.
    """

    def __init__(self, now: datetime) -> None:
        self._now = now
        self._monotonic_ns = 0

    def utc_now(self) -> datetime:
        return self._now

    def monotonic_ns(self) -> int:
        return self._monotonic_ns

    def advance(self, seconds: float) -> None:
        self._now += timedelta(seconds=seconds)
        self._monotonic_ns += round(seconds * 1_000_000_000)

    def sleep_machine(self, seconds: float) -> None:
        """The machine is suspended: wall time goes on, monotonic time stands."""
        self._now += timedelta(seconds=seconds)
