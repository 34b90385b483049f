"""Time is handed in: a clock that the system drives and that tests can hold still."""

import time
from datetime import UTC, datetime
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
