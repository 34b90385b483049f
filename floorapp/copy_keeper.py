"""Has the record copied once a day, off the screen's thread, and says how old the last copy is."""

from collections.abc import Callable
from datetime import datetime, timedelta

from floorapp.background import Background
from floorapp.clock_watch import span
from floorapp.views import NoticeView, Tone
from models.clock import Clock
from models.errors import FloorError
from models.garment.countdown import NS_PER_S
from models.store.backups import Backups

LOOK_S = 600
"""How often it is looked whether a copy is due; after a failure it is tried again so soon."""
OLD = timedelta(days=2)
JUST_NOW_S = 120


class CopyKeeper:
    """Keeps the copies of one database file."""

    def __init__(self, backups: Backups, clock: Clock, background: Background) -> None:
        self._backups, self._clock, self._background = backups, clock, background
        self._next_look_ns = clock.monotonic_ns()
        self._is_looking = False
        self._last_at: datetime | None = None
        self._trouble = ""
        self.changed: Callable[[], None] = lambda: None

    def tick(self) -> None:
        """Look whether a copy is due, and have it made."""
        now_ns = self._clock.monotonic_ns()
        if not self._is_looking and now_ns >= self._next_look_ns:
            self._is_looking, self._next_look_ns = True, now_ns + LOOK_S * NS_PER_S
            self._background.run(self._look, self._looked, self._failed)

    @property
    def told(self) -> NoticeView | None:
        """The age of the last copy, or why there is none; None before it is known."""
        if self._trouble:
            return NoticeView(f"The record could not be copied. {self._trouble}", Tone.ATTENTION)
        if self._last_at is None:
            return None
        age = self._clock.utc_now() - self._last_at
        how_old = "just now" if age.total_seconds() < JUST_NOW_S else f"{span(age.total_seconds())} ago"
        return NoticeView(f"Record copied {how_old}", Tone.ATTENTION if age > OLD else Tone.PLAIN)

    def _look(self) -> datetime | None:
        """Return when the newest copy was made; a copy from the future tells nothing."""
        now = self._clock.utc_now()
        if self._backups.is_due(now):
            self._backups.make(now)
        return next((copy.made_at for copy in self._backups.all() if copy.made_at <= now), None)

    def _looked(self, last_at: datetime | None) -> None:
        """What went wrong is told until there is a newer copy."""
        if last_at != self._last_at:
            self._trouble = ""
        self._is_looking, self._last_at = False, last_at
        self.changed()

    def _failed(self, error: FloorError) -> None:
        self._is_looking, self._trouble = False, str(error)
        self.changed()
