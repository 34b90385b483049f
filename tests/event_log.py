"""A garment's log for tests: what happens is numbered and timed as the store would do it."""

from datetime import datetime, timedelta
from uuid import UUID

from models.garment.events import (
    AllPeeled,
    Closed,
    Completed,
    Event,
    Happening,
    Opened,
    Passed,
    Peeled,
    Rested,
    RestEnded,
    TakenBack,
    TakenUp,
)
from models.garment.progress import Progress, fold
from models.job.job import Peel
from tests.held_clock import MORNING
from tests.sample_jobs import crew_vest_recipe

S_PER_TAP = 10


class EventLog:
    """Events of one garment: each call of `tap` is one tap, ten seconds after the one before."""

    def __init__(self) -> None:
        self.events: list[Event] = []
        self._taps = 0

    def tap(self, *what: Happening, station: str = "press 1", person: str = "Ines") -> "EventLog":
        self._taps += 1
        tap = UUID(int=1_000 + self._taps)
        for happening in what:
            seq = len(self.events) + 1
            self.events.append(Event(UUID(int=seq), seq, tap, self.now, station, person, happening))
        return self

    def take_back(self) -> "EventLog":
        """The last event's tap is taken back."""
        return self.tap(TakenBack(self.events[-1].tap))

    @property
    def now(self) -> datetime:
        return MORNING + timedelta(seconds=S_PER_TAP * self._taps)

    @property
    def progress(self) -> Progress:
        """Of a garment of the sample job."""
        return fold(crew_vest_recipe(), self.events)


def laying() -> EventLog:
    return EventLog().tap(TakenUp())


def pressing() -> EventLog:
    return laying().tap(Closed(15))


def peeling() -> EventLog:
    """Opened after the first hit: the wave peels hot, the anchor cold."""
    return pressing().tap(Opened(15))


def resting() -> EventLog:
    return peeling().tap(Peeled(("wave",), Peel.HOT), Rested(60))


def checking() -> EventLog:
    return resting().tap(RestEnded(), Peeled(("anchor",), Peel.COLD), AllPeeled())


def checking_last() -> EventLog:
    """At the check of the second and last hit."""
    return checking().tap(Passed()).tap(Closed(5)).tap(Opened(5), AllPeeled())


def complete() -> EventLog:
    return checking_last().tap(Completed())
