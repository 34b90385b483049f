"""What a garment's log tells about rests and peels: pure functions over its events.

A rest until cold counts from the tap that takes the garment off the press. On the press it hardly cools: one
that lay there for longer than its rest should take tells nothing of it. A wait until warm is as short as the
way off the press, of which no tap tells: it counts from the opening.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from math import sqrt

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
from models.garment.progress import Recipe, effective
from models.heat.learned import RestKey, RestObservation, Told
from models.heat.lift_rates import PeelObservation
from models.heat.piece_rest import longest_rest
from models.heat.places import Place
from models.job.job import Peel

VERDICTS = (Passed, Completed, ExtraAdded, Spoiled)
"""What ends a check: only then is it known whether a peel went well."""


@dataclass(frozen=True, slots=True)
class _Rest:
    """Off the press so many seconds after its opening; found still warm after these seconds of rest."""

    place: Place
    began_at: datetime
    due_at: datetime
    on_press_s: float
    warm_at: tuple[datetime, ...] = ()

    def seconds_to(self, at: datetime) -> float:
        return (at - self.began_at).total_seconds()


@dataclass(frozen=True, slots=True)
class _Peeling:
    """Carriers that came off together, how, where, and after which opening and rest."""

    at: datetime
    pieces: tuple[str, ...]
    how: Peel
    place: Place | None
    opened_at: datetime | None
    rest: _Rest | None
    lifted: frozenset[str] = frozenset()


@dataclass(slots=True)
class _Reader:
    """Goes along a log and gathers the peelings on which a check has passed its verdict.

    A lift that is seen until the next closing is one of the peels before it.
    """

    closed_at: datetime | None = None
    opened_at: datetime | None = None
    rest: _Rest | None = None
    has_verdict: bool = False
    since_closing: list[_Peeling] = field(default_factory=list)
    judged: list[_Peeling] = field(default_factory=list)

    def read(self, event: Event) -> None:
        match event.what:
            case Closed():
                self.settle()
                self.closed_at, self.opened_at, self.rest = event.at, None, None
            case Opened(seconds, _) if self.closed_at is not None:
                self.opened_at = min(event.at, self.closed_at + timedelta(seconds=seconds))
            case Rested(rest_s, place):
                self._rested(event.at, event.at + timedelta(seconds=rest_s), place)
            case Peeled(pieces, how, place):
                peeling = _Peeling(event.at, pieces, how, place, self.opened_at, self.rest)
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

    def _rested(self, at: datetime, due_at: datetime, place: Place) -> None:
        if self.rest is not None:  # it was called and sent back
            self.rest = replace(self.rest, due_at=due_at, warm_at=(*self.rest.warm_at, at))
        elif self.opened_at is not None:
            self.rest = _Rest(place, at, due_at, (at - self.opened_at).total_seconds())


def peel_observations(recipe: Recipe, events: Sequence[Event]) -> tuple[PeelObservation, ...]:
    """Each piece of a garment's log whose carrier came off, as the check after it saw the piece.

    Raises IllegalEventError where a tap is taken back that is not the last one.
    """
    job = recipe.job
    return tuple(
        PeelObservation(job.piece(piece).material, job.fabric.name, peeling.how, piece in peeling.lifted)
        for peeling in _peelings(events)
        for piece in peeling.pieces
    )


def rest_observations(recipe: Recipe, events: Sequence[Event]) -> tuple[RestObservation, ...]:
    """Each rest of a garment's log that ended in a cold or a warm peel, one for each material peeled.

    Raises IllegalEventError as peel_observations does.
    """
    return tuple(seen for peeling in _peelings(events) for seen in _told_of_rest(recipe, peeling))


def _told_of_rest(recipe: Recipe, peeling: _Peeling) -> Iterator[RestObservation]:
    if peeling.how == Peel.COLD and peeling.rest is not None:
        yield from _told_cold(recipe, peeling, peeling.rest)
    elif peeling.how == Peel.WARM and peeling.place is not None and peeling.opened_at is not None:
        yield from _told_warm(recipe, peeling, peeling.place, peeling.opened_at)


def _told_warm(
    recipe: Recipe, peeling: _Peeling, place: Place, opened_at: datetime
) -> Iterator[RestObservation]:
    """Peeled warm and down: no longer was needed. It lifted: longer was.

    After the end of the band a lift tells nothing: nobody knows whether it was too warm still or too cold.
    A piece that ought to peel cold and was tried warm has no wait until warm, and tells nothing either.
    """
    waited_s = (peeling.at - opened_at).total_seconds()
    for material, pieces in _by_material(recipe, peeling):
        own = longest_rest(recipe.rests, pieces, Peel.WARM, place)
        lifted = bool(peeling.lifted & set(pieces))
        if own is None or own.median_s <= 0 or waited_s <= 0 or (lifted and waited_s > own.high_s):
            continue
        key = RestKey(material, recipe.job.fabric.name, place, Peel.WARM)
        told = Told.LIFTED if lifted else Told.WELL
        yield RestObservation(key, own.median_s, waited_s, told, peeling.at)


def _told_cold(recipe: Recipe, peeling: _Peeling, rest: _Rest) -> Iterator[RestObservation]:
    """Peeled before it was due and down: called ready. Peeled later and down: no longer was needed. Called
    and sent back: it was needed until some time between that and when it was due again.

    The hand judges the whole garment, and so the material that rests longest.
    """
    longest = longest_rest(recipe.rests, peeling.pieces, Peel.COLD, rest.place)
    if longest is None or rest.on_press_s > longest.median_s:
        return
    decisive = recipe.job.piece(longest.piece).material
    for material, pieces in _by_material(recipe, peeling):
        own = longest_rest(recipe.rests, pieces, Peel.COLD, rest.place)
        told = _told(peeling, rest, pieces, is_decisive=material == decisive)
        rested_s = _seconds(peeling, rest, told)
        if own is not None and own.median_s > 0 and rested_s > 0:
            key = RestKey(material, recipe.job.fabric.name, rest.place)
            yield RestObservation(key, own.median_s, rested_s, told, peeling.at)


def _told(peeling: _Peeling, rest: _Rest, pieces: tuple[str, ...], *, is_decisive: bool) -> Told:
    if peeling.lifted & set(pieces):
        return Told.LIFTED
    if is_decisive and peeling.at < rest.due_at:
        return Told.READY
    return Told.BETWEEN if is_decisive and rest.warm_at else Told.WELL


def _seconds(peeling: _Peeling, rest: _Rest, told: Told) -> float:
    """What was warm once and cold when it was due again needed about the geometric mean of both.

    Not above 0 where the stations' clocks differ by more than the rest.
    """
    if told == Told.BETWEEN:
        return sqrt(max(0.0, rest.seconds_to(rest.warm_at[-1])) * max(0.0, rest.seconds_to(rest.due_at)))
    return rest.seconds_to(peeling.at)


def _with_lifts(peeling: _Peeling, pieces: tuple[str, ...]) -> _Peeling:
    return replace(peeling, lifted=peeling.lifted | (set(pieces) & set(peeling.pieces)))


def _by_material(recipe: Recipe, peeling: _Peeling) -> Iterator[tuple[str, tuple[str, ...]]]:
    materials = {piece: recipe.job.piece(piece).material for piece in peeling.pieces}
    for material in dict.fromkeys(materials.values()):
        yield material, tuple(piece for piece, its in materials.items() if its == material)


def _peelings(events: Sequence[Event]) -> list[_Peeling]:
    reader = _Reader()
    for event in effective(events):
        reader.read(event)
    reader.settle()
    return reader.judged
