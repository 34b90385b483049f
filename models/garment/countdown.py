"""A countdown is the difference of two monotonic readings, never a sum of frames."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from models.clock import Clock

NS_PER_S = 1_000_000_000


@dataclass(frozen=True, slots=True)
class Countdown:
    """Runs from a start reading for whole seconds; integers, so that the last second ends exactly."""

    started_ns: int
    started_at: datetime
    seconds: int

    @classmethod
    def start(cls, clock: Clock, seconds: int, run_s: float = 0.0) -> "Countdown":
        """Start one that has been running for `run_s` seconds already."""
        started_at = clock.utc_now() - timedelta(seconds=run_s)
        return cls(clock.monotonic_ns() - round(run_s * NS_PER_S), started_at, seconds)

    def left_ns(self, clock: Clock) -> int:
        """Nanoseconds left, 0 once it is over."""
        return max(0, self.started_ns + self.seconds * NS_PER_S - clock.monotonic_ns())

    def left_s(self, clock: Clock) -> int:
        """Whole seconds left as they are shown: the last second shows 1, the end shows 0."""
        return -(-self.left_ns(clock) // NS_PER_S)

    def run_s(self, clock: Clock) -> int:
        """Whole seconds since its start, on beyond its end."""
        return (clock.monotonic_ns() - self.started_ns) // NS_PER_S

    def overrun_s(self, clock: Clock) -> int:
        """Whole seconds since its end, 0 before that."""
        over_ns = clock.monotonic_ns() - self.started_ns - self.seconds * NS_PER_S
        return max(0, over_ns // NS_PER_S)

    def fraction_left(self, clock: Clock) -> float:
        """1 at the start, 0 at the end; a countdown of 0 s is over at once."""
        return self.left_ns(clock) / (self.seconds * NS_PER_S) if self.seconds else 0.0

    def is_over(self, clock: Clock) -> bool:
        return self.left_ns(clock) == 0
