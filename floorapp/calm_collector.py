"""Python's full garbage collection, moved to moments in which nobody waits for the screen.

A full collection walks through every widget and takes as long as several frames; started by chance it falls
into a tap as often as not. The short ones stay automatic.
"""

import gc

from models.clock import Clock

CALM_AFTER_NS = 1_500_000_000
"""Nothing was tapped for this long: now a pause of some frames is not seen."""
NEVER = 1_000_000


class CalmCollector:
    """Between `begin` and `end`, full collections run only in `look`, and only after a tap and a calm."""

    def __init__(self, clock: Clock) -> None:
        self._clock = clock
        self._thresholds = gc.get_threshold()
        self._last_tap_ns: int | None = None

    def begin(self) -> None:
        gc.set_threshold(self._thresholds[0], self._thresholds[1], NEVER)

    def end(self) -> None:
        gc.set_threshold(*self._thresholds)

    def tapped(self) -> None:
        self._last_tap_ns = self._clock.monotonic_ns()

    def look(self) -> None:
        """Called often; collects once after each burst of taps."""
        if self._last_tap_ns is None or self._clock.monotonic_ns() - self._last_tap_ns < CALM_AFTER_NS:
            return
        self._last_tap_ns = None
        gc.collect()
