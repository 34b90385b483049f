"""Says what is wrong with the clocks of the floor, and how to mend it. No countdown or rest hangs on them."""

from collections.abc import Iterator
from datetime import datetime

from models.clock import Clock

MAY_DIFFER_S = 2.0
"""A smaller difference between two clocks is not told."""
MINUTE_S, HOUR_S, DAY_S = 60, 3_600, 86_400


class ClockWatch:
    """Each difference is told once: a clock that is set again is told again."""

    def __init__(self, clock: Clock, *, is_on_server: bool) -> None:
        self._clock, self._is_on_server = clock, is_on_server
        self._ahead_s = 0.0  # as it was told last
        self._is_future_told = False

    def look(self, newest_at: datetime | None) -> Iterator[str]:
        """Tell what is new; `newest_at` is the time of the newest event in the record."""
        ahead_s = self._clock.wall_ahead_s()
        if abs(ahead_s - self._ahead_s) > MAY_DIFFER_S:
            self._ahead_s = ahead_s
            if abs(ahead_s) > MAY_DIFFER_S:
                yield self._told(ahead_s)
        yield from self._future(newest_at)

    def _told(self, ahead_s: float) -> str:
        if self._is_on_server:
            where = "ahead of" if ahead_s > 0 else "behind"
            return (
                f"This station's clock is {span(ahead_s)} {where} the server's. All stations go by the "
                "server's. Let a time server set this station's clock."
            )
        how = "ahead" if ahead_s > 0 else "back"
        return (
            f"This computer's clock was set {span(ahead_s)} {how}. Countdowns and rests do not go by it. "
            "Start the app anew when nothing is pressed or rests."
        )

    def _future(self, newest_at: datetime | None) -> Iterator[str]:
        if self._is_future_told or newest_at is None:
            return
        future_s = (newest_at - self._clock.utc_now()).total_seconds()
        if future_s > MAY_DIFFER_S:
            self._is_future_told = True
            yield (
                f"The newest event in the record is {span(future_s)} ahead of this clock: it was set back, "
                "or another station's is ahead. Let a time server set both clocks, then start the app anew."
            )


def span(seconds: float) -> str:
    """Say a length of time in its largest unit, of which there are two or more.

    >>> [span(s) for s in (3.2, -119, 3600, 86400, 172800)]
    ['3 s', '119 s', '60 min', '24 h', '2 days']
    """
    whole = round(abs(seconds))
    for unit_s, unit in ((DAY_S, "days"), (HOUR_S, "h"), (MINUTE_S, "min")):
        if whole >= 2 * unit_s:
            return f"{whole // unit_s} {unit}"
    return f"{whole} s"
