"""Time is handed in: a clock that the system drives and that tests can hold still."""

import time
from datetime import UTC, datetime, timedelta
from typing import Protocol

_COUNTS_IN_SLEEP: int | None = getattr(time, "CLOCK_BOOTTIME", getattr(time, "CLOCK_MONOTONIC", None))
"""The monotonic clock that goes on while the machine sleeps: on Linux it has a name of its own. macOS counts
sleep under the plain name. Windows has neither, and `time.monotonic_ns` counts sleep there.
"""


class Clock(Protocol):
    """UTC for the record, monotonic nanoseconds for countdowns, and how far the computer's clock is off."""

    def utc_now(self) -> datetime:
        """Return the instant, with its time zone (UTC)."""
        ...

    def monotonic_ns(self) -> int:
        """Return nanoseconds that never go back; only differences mean anything."""
        ...

    def wall_ahead_s(self) -> float:
        """Return by how many seconds the computer's own clock is ahead of `utc_now`; below 0, behind it."""
        ...


class SystemClock:
    """The computer's own clock. A person or a time server may set it at any moment."""

    def utc_now(self) -> datetime:
        return datetime.now(UTC)

    def monotonic_ns(self) -> int:
        return time.monotonic_ns() if _COUNTS_IN_SLEEP is None else time.clock_gettime_ns(_COUNTS_IN_SLEEP)

    def wall_ahead_s(self) -> float:
        return 0.0


class SteadyClock:
    """UTC counted on from one reading of the computer's clock, by monotonic time.

    If that clock is set while the app runs, no elapsed time, countdown or rest of this run changes.
    """

    def __init__(self, computer: Clock) -> None:
        self._computer = computer
        self._anchor, self._anchor_ns = computer.utc_now(), computer.monotonic_ns()

    def utc_now(self) -> datetime:
        run_ns = self.monotonic_ns() - self._anchor_ns
        return self._anchor + timedelta(microseconds=run_ns // 1000)

    def monotonic_ns(self) -> int:
        return self._computer.monotonic_ns()

    def wall_ahead_s(self) -> float:
        return (self._computer.utc_now() - self.utc_now()).total_seconds()

    def follow(self, ahead_s: float) -> None:
        """Go by another clock from now on, which is `ahead_s` seconds ahead: a server's, for all stations."""
        self._anchor += timedelta(seconds=ahead_s)


class HeldClock:
    """A clock that stands still until it is moved: for a batch walked without a person, and for tests.

    UTC and monotonic time move together, unless the computer's clock is set.
    """

    def __init__(self, now: datetime) -> None:
        self._now = now
        self._monotonic_ns = 0

    def utc_now(self) -> datetime:
        return self._now

    def monotonic_ns(self) -> int:
        return self._monotonic_ns

    def wall_ahead_s(self) -> float:
        return 0.0

    def advance(self, seconds: float) -> None:
        """Let time pass, whether the machine is awake or sleeps."""
        self._now += timedelta(seconds=seconds)
        self._monotonic_ns += round(seconds * 1_000_000_000)

    def set_ahead(self, seconds: float) -> None:
        """Set the computer's clock ahead, or back below 0; no time passes."""
        self._now += timedelta(seconds=seconds)
