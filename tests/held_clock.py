"""A clock that stands still until a test moves it."""

from datetime import UTC, datetime, timedelta

MORNING = datetime(2026, 11, 3, 8, 0, tzinfo=UTC)


class HeldClock:
    """Implements models.clock.Clock: UTC and monotonic time move together, and only by `advance`."""

    def __init__(self, now: datetime = MORNING) -> None:
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
