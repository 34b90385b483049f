"""What can happen to a garment, one frozen dataclass an event, and their JSON."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from typing import Any
from uuid import UUID

from models.garment.cycle import EventKind
from models.job.job import Peel
from models.plan.plan import Hit, hit_from_json, hit_to_json
from models.recipe.places import Place


class FindingKind(StrEnum):
    LIFT = "lift"
    SHIFT = "shift"
    SCORCH = "scorch"
    WRINKLE = "wrinkle"
    INK_BLEED = "ink bleed"
    PRESS_MARK = "press mark"
    MISSING = "missing"
    WRONG = "wrong"


class ExtraReason(StrEnum):
    REPRESS = "re-press"  # pieces lifted
    REMAINDER = "remainder"  # the press was opened early
    REPLACEMENT = "replacement"  # pieces were taken off and are laid anew


@dataclass(frozen=True, slots=True)
class TakenUp:
    """A person at a station has the garment in hand."""


@dataclass(frozen=True, slots=True)
class Closed:
    """The pieces are laid and the press came down, for so many seconds."""

    dwell_s: int


@dataclass(frozen=True, slots=True)
class Opened:
    """The press went up after so many seconds; `judged` where a person told them after an interruption.

    `warm_s` after that the carriers that peel warm can come off; None if none does, or it was not estimated.
    """

    seconds: int
    judged: bool = False
    warm_s: int | None = None


@dataclass(frozen=True, slots=True)
class Peeled:
    """The carriers of these pieces came off, in this way.

    `place` is where the garment cooled until they came off warm; of no other peel, and of none from before
    places were told, is it known.
    """

    pieces: tuple[str, ...]
    how: Peel
    place: Place | None = None


@dataclass(frozen=True, slots=True)
class Rested:
    """The garment went to the rest rail, or was called too early and goes on resting, for so many seconds.

    If it `counts_from_opening`, they are what is left of a rest that began with the opening of the press. In
    logs from before, a rest began with this tap.
    """

    rest_s: int
    place: Place = Place.TABLE
    counts_from_opening: bool = False


@dataclass(frozen=True, slots=True)
class RestEnded:
    """The garment was taken from the rest rail."""


@dataclass(frozen=True, slots=True)
class AllPeeled:
    """Nothing is left to peel after this hit."""


@dataclass(frozen=True, slots=True)
class Passed:
    """All is down after this hit, and another hit follows."""


@dataclass(frozen=True, slots=True)
class Completed:
    """All is down after the last hit."""


@dataclass(frozen=True, slots=True)
class Found:
    """The check saw something on these pieces."""

    kind: FindingKind
    pieces: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ExtraAdded:
    """Extra hits come next; `needs_s` are the counted seconds that each lifted piece wants again.

    The pieces `replaced` start anew. `rest`, where it is not None, takes the place of the hits ahead.
    """

    reason: ExtraReason
    hits: tuple[Hit, ...]
    needs_s: tuple[tuple[str, int], ...] = ()
    replaced: tuple[str, ...] = ()
    rest: tuple[Hit, ...] | None = None


@dataclass(frozen=True, slots=True)
class Replanned:
    """A hit took too long for those ahead; `rest` takes their place."""

    rest: tuple[Hit, ...]


@dataclass(frozen=True, slots=True)
class Held:
    reason: str


@dataclass(frozen=True, slots=True)
class Released:
    """The hold is over; the garment goes on where it was."""


@dataclass(frozen=True, slots=True)
class Spoiled:
    reason: str


@dataclass(frozen=True, slots=True)
class TakenBack:
    """An earlier tap does not count; its events stay in the log."""

    tap: UUID


Happening = (
    TakenUp | Closed | Opened | Peeled | Rested | RestEnded | AllPeeled | Passed | Completed | Found
    | ExtraAdded | Replanned | Held | Released | Spoiled | TakenBack
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Event:
    """One line of a garment's log. All events of one tap share `tap`; `seq` counts from 1 in each garment."""

    id: UUID
    seq: int
    tap: UUID
    at: datetime
    station: str
    person: str
    what: Happening


_KINDS: dict[type[Happening], EventKind] = {
    TakenUp: EventKind.TAKEN_UP,
    Closed: EventKind.CLOSED,
    Opened: EventKind.OPENED,
    Peeled: EventKind.PEELED,
    Rested: EventKind.RESTED,
    RestEnded: EventKind.REST_ENDED,
    AllPeeled: EventKind.ALL_PEELED,
    Passed: EventKind.PASSED,
    Completed: EventKind.COMPLETED,
    Found: EventKind.FOUND,
    ExtraAdded: EventKind.EXTRA_ADDED,
    Replanned: EventKind.REPLANNED,
    Held: EventKind.HELD,
    Released: EventKind.RELEASED,
    Spoiled: EventKind.SPOILED,
    TakenBack: EventKind.TAKEN_BACK,
}


def kind_of(what: Happening) -> EventKind:
    return _KINDS[type(what)]


def happening_to_json(what: Happening) -> dict[str, Any]:
    """The event's own fields, as JSON takes them; the kind is stored beside it."""
    match what:
        case Closed(dwell_s):
            return {"dwell_s": dwell_s}
        case Opened(seconds, judged, warm_s):
            return {"seconds": seconds, "judged": judged, "warm_s": warm_s}
        case Peeled(pieces, how, place):
            return {"pieces": list(pieces), "how": how.value, "place": place and place.value}
        case Rested(rest_s, place, counts_from_opening):
            return {"rest_s": rest_s, "place": place.value, "counts_from_opening": counts_from_opening}
        case Found(kind, pieces):
            return {"kind": kind.value, "pieces": list(pieces)}
        case ExtraAdded():
            return _extra_to_json(what)
        case Replanned(rest):
            return {"rest": [hit_to_json(hit) for hit in rest]}
        case Held(reason) | Spoiled(reason):
            return {"reason": reason}
        case TakenBack(tap):
            return {"tap": str(tap)}
        case _:
            return {}


def _extra_to_json(extra: ExtraAdded) -> dict[str, Any]:
    return {
        "reason": extra.reason.value,
        "hits": [hit_to_json(hit) for hit in extra.hits],
        "needs_s": [list(need) for need in extra.needs_s],
        "replaced": list(extra.replaced),
        "rest": None if extra.rest is None else [hit_to_json(hit) for hit in extra.rest],
    }


def _extra_from_json(data: dict[str, Any]) -> ExtraAdded:
    """An event stored before pieces could be replaced has neither `replaced` nor `rest`."""
    rest = data.get("rest")
    return ExtraAdded(
        ExtraReason(data["reason"]),
        tuple(hit_from_json(hit) for hit in data["hits"]),
        tuple((piece, seconds) for piece, seconds in data["needs_s"]),
        tuple(data.get("replaced", ())),
        None if rest is None else tuple(hit_from_json(hit) for hit in rest),
    )


def _peeled_from_json(data: dict[str, Any]) -> Peeled:
    """A peel stored before places were told has none."""
    place = data.get("place")
    return Peeled(tuple(data["pieces"]), Peel(data["how"]), None if place is None else Place(place))


def _rested_from_json(data: dict[str, Any]) -> Rested:
    """A rest stored before places were told was on the table."""
    place = Place(data.get("place", Place.TABLE))
    return Rested(data["rest_s"], place, data.get("counts_from_opening", False))


_READERS: dict[EventKind, Callable[[dict[str, Any]], Happening]] = {
    EventKind.TAKEN_UP: lambda _: TakenUp(),
    EventKind.CLOSED: lambda data: Closed(data["dwell_s"]),
    EventKind.OPENED: lambda data: Opened(data["seconds"], data["judged"], data.get("warm_s")),
    EventKind.PEELED: _peeled_from_json,
    EventKind.RESTED: _rested_from_json,
    EventKind.REST_ENDED: lambda _: RestEnded(),
    EventKind.ALL_PEELED: lambda _: AllPeeled(),
    EventKind.PASSED: lambda _: Passed(),
    EventKind.COMPLETED: lambda _: Completed(),
    EventKind.FOUND: lambda data: Found(FindingKind(data["kind"]), tuple(data["pieces"])),
    EventKind.EXTRA_ADDED: _extra_from_json,
    EventKind.REPLANNED: lambda data: Replanned(tuple(hit_from_json(hit) for hit in data["rest"])),
    EventKind.HELD: lambda data: Held(data["reason"]),
    EventKind.RELEASED: lambda _: Released(),
    EventKind.SPOILED: lambda data: Spoiled(data["reason"]),
    EventKind.TAKEN_BACK: lambda data: TakenBack(UUID(data["tap"])),
}


def happening_from_json(kind: EventKind, data: dict[str, Any]) -> Happening:
    return _READERS[kind](data)
