"""How the app starts on the shop's record, and the ways on if it cannot. No screen here.

The first frame does not wait for the store's own modules: they are loaded where they are used.
"""

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING

from floorapp.known_databases import DatabaseVanishedError
from floorapp.views import Action, Button, Tap, Tone
from models.clock import Clock
from models.errors import FloorError
from models.store.errors import DamagedRecordError, NotOurDatabaseError

if TYPE_CHECKING:
    from floorapp.flow import Flow
    from models.store.backups import Backup


class Way(StrEnum):
    """What can be done about a start that failed."""

    AGAIN = "again"
    RESTORE = "restore"
    NEW = "new"
    QUIT = "quit"


@dataclass(frozen=True, slots=True)
class TroubleView:
    """Why the record does not open, the likeliest way on, and the others."""

    heading: str
    text: str
    ways: tuple[Button, ...]
    primary: Button


class Start:
    """Opens the shop's record. `open_flow` is told whether a new database is meant."""

    def __init__(
        self, open_flow: "Callable[[bool], Flow]", find_record: Callable[[], Path | None], clock: Clock
    ) -> None:
        self._open_flow, self._find_record, self._clock = open_flow, find_record, clock

    def open(self) -> "Flow":
        return self._open_flow(False)

    def open_new(self) -> "Flow":
        return self._open_flow(True)

    def open_restored(self) -> "Flow":
        """Put the newest copy in the record's place first."""
        from models.store.restoring import restore

        record = self._find_record()
        copy = newest_copy(record)
        if record is not None and copy is not None:
            restore(record, copy.file, self._clock.utc_now())
        return self.open()

    def trouble(self, error: Exception) -> TroubleView:
        """Say what is wrong, and offer what mends it."""
        ways = [_button("Quit", Way.QUIT)]
        if isinstance(error, DatabaseVanishedError):
            ways.insert(0, _button("Begin a new, empty record", Way.NEW))
        if isinstance(error, DatabaseVanishedError | NotOurDatabaseError | DamagedRecordError):
            copy = newest_copy(self._find_record())
            if copy is not None:
                made = f"{copy.made_at.astimezone():%a %d %b %Y, %H:%M}"
                ways.insert(0, _button(f"Restore the copy of {made}", Way.RESTORE))
        again = Button("Try again", Action(Tap.WAY_ON, Way.AGAIN), Tone.PRESS)
        return TroubleView("The app cannot start", _told(error), tuple(ways), again)


def newest_copy(record: Path | None) -> "Backup | None":
    """Return the newest of the copies that the app keeps; none of a database on a server."""
    from models.store.backups import Backups

    return next(iter(Backups(record).all()), None) if record is not None else None


def _button(text: str, way: Way) -> Button:
    return Button(text, Action(Tap.WAY_ON, way))


def _told(error: Exception) -> str:
    """A fault of ours is told as what it is: whoever looks after the app needs its name."""
    if isinstance(error, FloorError):
        return str(error)
    return f"A fault of this program: {type(error).__name__}: {error}"
