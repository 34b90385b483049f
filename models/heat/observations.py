"""What a garment's log tells about rests and peels: pure functions over its events."""

from collections.abc import Callable, Iterator, Sequence
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
from models.garment.progress import Recipe, advance, begin, effective
from models.heat.learned import RestKey, RestObservation, Told
from models.heat.lift_rates import PeelObservation
from models.job.job import Peel
from models.planning.plan import Hit

EstimateS = Callable[[Hit, tuple[str, ...]], float]
"""The median rest [s] estimated for these pieces after this hit; 0 where they need none."""

VERDICTS = (Passed, Completed, ExtraAdded, Spoiled)
"""What ends a check: only then is it known whether a peel went well."""


@dataclass(frozen=True, slots=True)
class _Peeling:
    """Carriers that came off together, how, and so many seconds after the press had opened."""

    hit: Hit
    pieces: tuple[str, ...]
    how: Peel
    since_opening_s: float
    rested: bool
    before_due: bool
    lifted: frozenset[str] = frozenset()


@dataclass(slots=True)
class _Reader:
    """Goes along a log and gathers the peelings on which a check has passed its verdict."""

    closed_at: datetime | None = None
    opened_at: datetime | None = None
    due_at: datetime | None = None
    open: list[_Peeling] = field(default_factory=list)
    judged: list[_Peeling] = field(default_factory=list)

    def read(self, event: Event, hit: Hit) -> None:
        """One more event, which happened in the course of `hit`."""
        match event.what:
            case Closed():
                self.closed_at = event.at
            case Opened(seconds, _) if self.closed_at is not None:
                by_the_seconds = self.closed_at + timedelta(seconds=seconds)
                self.opened_at, self.due_at = min(event.at, by_the_seconds), None
            case Rested(rest_s):
                self.due_at = event.at + timedelta(seconds=rest_s)
            case Peeled(pieces, how) if self.opened_at is not None:
                since_s = (event.at - self.opened_at).total_seconds()
                before_due = self.due_at is not None and event.at < self.due_at
                rested = self.due_at is not None
                self.open.append(_Peeling(hit, pieces, how, since_s, rested, before_due))
            case Found(FindingKind.LIFT, pieces):
                self.open = [replace(p, lifted=p.lifted | (set(pieces) & set(p.pieces))) for p in self.open]
            case what if isinstance(what, VERDICTS):
                self.judged += self.open
                self.open = []


def peel_observations(recipe: Recipe, events: Sequence[Event]) -> tuple[PeelObservation, ...]:
    """Each piece of a garment's log whose carrier came off, as the check after it saw the piece.

    Raises IllegalEventError where the log does not fold.
    """
    job = recipe.job
    return tuple(
        PeelObservation(job.piece(piece).material, job.fabric.name, peeling.how, piece in peeling.lifted)
        for peeling in _peelings(recipe, events)
        for piece in peeling.pieces
    )


def rest_observations(
    recipe: Recipe, events: Sequence[Event], estimate_s: EstimateS, place: str
) -> tuple[RestObservation, ...]:
    """Each rest of a garment's log that ended in a cold peel, one for each material that was peeled.

    Peeled before it was due and down: called ready. Peeled later and down: no longer was needed.
    Raises IllegalEventError where the log does not fold.
    """
    seen: list[RestObservation] = []
    for peeling in _peelings(recipe, events):
        if not peeling.rested or peeling.how != Peel.COLD or peeling.since_opening_s <= 0:
            continue
        for material, pieces in _by_material(recipe, peeling):
            estimated_s = estimate_s(peeling.hit, pieces)
            if estimated_s > 0:
                key = RestKey(material, recipe.job.fabric.name, place)
                told = _told(peeling, pieces)
                seen.append(RestObservation(key, estimated_s, peeling.since_opening_s, told))
    return tuple(seen)


def _told(peeling: _Peeling, pieces: tuple[str, ...]) -> Told:
    if peeling.lifted & set(pieces):
        return Told.LIFTED
    return Told.READY if peeling.before_due else Told.WELL


def _by_material(recipe: Recipe, peeling: _Peeling) -> Iterator[tuple[str, tuple[str, ...]]]:
    materials = {piece: recipe.job.piece(piece).material for piece in peeling.pieces}
    for material in dict.fromkeys(materials.values()):
        yield material, tuple(piece for piece, its in materials.items() if its == material)


def _peelings(recipe: Recipe, events: Sequence[Event]) -> list[_Peeling]:
    reader, progress = _Reader(), begin(recipe)
    for event in effective(events):
        reader.read(event, progress.hit)
        progress = advance(progress, event)
    return reader.judged
