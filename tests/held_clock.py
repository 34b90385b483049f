"""The held clock as tests start it: on a working morning."""

from datetime import UTC, datetime

from models.clock import HeldClock as ClockOfTheFloor

MORNING = datetime(2026, 11, 3, 8, 0, tzinfo=UTC)


class HeldClock(ClockOfTheFloor):
    """Stands at MORNING unless told otherwise."""

    def __init__(self, now: datetime = MORNING) -> None:
        super().__init__(now)
