"""The peels of a garment's log, each with the rest or the wait before it and the lifts found after it."""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta

from models.garment.events import (
    Closed,
    Completed,
    Event,
    ExtraAdded,
    FindingKind,
    Found,
    Opened,
    Passed,
    Peeled,
    Rested,
    Spoiled,
)
from models.garment.progress import effective
from models.job.job import Peel
from models.recipe.places import Place

VERDICTS = (Passed, Completed, ExtraAdded, Spoiled)
"""What ends a check: only then is it known whether a peel went well."""


@dataclass(frozen=True, slots=True)
class RestSeen:
    """Begun at the opening, off the press `on_press_s` after it; found still warm at these instants.

    In logs from before rests counted from the opening, it began with the tap that took it off the press.
    """

    place: Place
    began_at: datetime
    due_at: datetime
    on_press_s: float
    warm_at: tuple[datetime, ...] = ()

    def seconds_to(self, at: datetime) -> float:
        return (at - self.began_at).total_seconds()


@dataclass(frozen=True, slots=True)
class Peeling:
    """Carriers that came off together, how, where, and after which opening and rest."""

    at: datetime
    pieces: tuple[str, ...]
    how: Peel
    place: Place | None
    opened_at: datetime | None
    rest: RestSeen | None
    lifted: frozenset[str] = frozenset()


@dataclass(slots=True)
class _Reader:
    """Goes along a log and gathers the peelings on which a check has passed its verdict.

    A lift that is seen until the next closing is one of the peels before it.
    """

    closed_at: datetime | None = None
    opened_at: datetime | None = None
    rest: RestSeen | None = None
    has_verdict: bool = False
    since_closing: list[Peeling] = field(default_factory=list)
    judged: list[Peeling] = field(default_factory=list)

    def read(self, event: Event) -> None:
        match event.what:
            case Closed():
                self.settle()
                self.closed_at, self.opened_at, self.rest = event.at, None, None
            case Opened(seconds) if self.closed_at is not None:
                self.opened_at = min(event.at, self.closed_at + timedelta(seconds=seconds))
            case Rested() as rested:
                self._rested(event.at, rested)
            case Peeled(pieces, how, place):
                peeling = Peeling(event.at, pieces, how, place, self.opened_at, self.rest)
                self.since_closing.append(peeling)
            case Found(FindingKind.LIFT, pieces):
                self.since_closing = [_with_lifts(peeling, pieces) for peeling in self.since_closing]
            case what if isinstance(what, VERDICTS):
                self.has_verdict = True

    def settle(self) -> None:
        """Nothing more will be said of the peels since the last closing."""
        if self.has_verdict:
            self.judged += self.since_closing
        self.since_closing, self.has_verdict = [], False

    @property
    def _has_cooled(self) -> bool:
        """Whether the garment was off the press already, until its warm ones came off."""
        return any(peeling.how == Peel.WARM for peeling in self.since_closing)

    def _rested(self, at: datetime, rested: Rested) -> None:
        """A rest that counted from its own tap tells nothing if the garment had begun to cool before."""
        due_at = at + timedelta(seconds=rested.rest_s)
        if self.rest is not None:  # it was called and sent back
            self.rest = replace(self.rest, due_at=due_at, warm_at=(*self.rest.warm_at, at))
        elif self.opened_at is not None and (rested.counts_from_opening or not self._has_cooled):
            began_at = self.opened_at if rested.counts_from_opening else at
            on_press_s = (at - self.opened_at).total_seconds()
            self.rest = RestSeen(rested.place, began_at, due_at, on_press_s)


def _with_lifts(peeling: Peeling, pieces: tuple[str, ...]) -> Peeling:
    return replace(peeling, lifted=peeling.lifted | (set(pieces) & set(peeling.pieces)))


def peelings_of(events: Iterable[Event]) -> tuple[Peeling, ...]:
    """Those of a log on which a check has passed its verdict.

    Raises IllegalEventError where a tap is taken back that is not the last one.
    """
    reader = _Reader()
    for event in effective(events):
        reader.read(event)
    reader.settle()
    return tuple(reader.judged)
