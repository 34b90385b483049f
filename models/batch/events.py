"""What can happen to a batch, one frozen dataclass an event, and their JSON.

A garment is named by its tag code, which never changes.
"""

from collections.abc import Callable
from dataclasses import asdict, dataclass
from datetime import datetime
from enum import StrEnum
from typing import Any
from uuid import UUID


class BatchEventKind(StrEnum):
    GARMENT_ADDED = "garment added"
    TAKEN_OUT = "taken out"
    PUT_BACK = "put back"
    CORRECTED = "corrected"
    PRIORITY_SET = "priority set"
    CLOSED = "batch closed"
    REOPENED = "batch reopened"
    WITHDRAWN = "batch withdrawn"


@dataclass(frozen=True, slots=True)
class GarmentAdded:
    """One more garment belongs to the batch; `remake_of` is the spoiled one that it stands in for, if any."""

    code: str
    n: int
    size: str
    wearer: str = ""
    number: str = ""
    remake_of: str = ""


@dataclass(frozen=True, slots=True)
class GarmentTakenOut:
    """No more is done with the garment, and its wearer is not waited for."""

    code: str
    reason: str


@dataclass(frozen=True, slots=True)
class GarmentPutBack:
    """A garment that was taken out goes on where it was."""

    code: str


@dataclass(frozen=True, slots=True)
class WearerCorrected:
    """The garment's name and number were wrong: `was` is what stood there before."""

    code: str
    wearer: str
    number: str
    was_wearer: str
    was_number: str


@dataclass(frozen=True, slots=True)
class PrioritySet:
    """A batch of higher priority goes first; each begins with 0."""

    priority: int


@dataclass(frozen=True, slots=True)
class BatchClosed:
    """Nothing is left to do: the batch leaves the Floor."""


@dataclass(frozen=True, slots=True)
class BatchReopened:
    """A closed batch is on the Floor again."""


@dataclass(frozen=True, slots=True)
class BatchWithdrawn:
    """The batch was loaded wrongly and is taken back; `reference` was its own, and is free again."""

    reference: str


BatchHappening = (
    GarmentAdded | GarmentTakenOut | GarmentPutBack | WearerCorrected | PrioritySet | BatchClosed
    | BatchReopened | BatchWithdrawn
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class BatchEvent:
    """One line of a batch's log; each is a tap of its own. `seq` counts from 1 in each batch."""

    id: UUID
    seq: int
    at: datetime
    station: str
    person: str
    what: BatchHappening


_TYPES: dict[BatchEventKind, Callable[..., BatchHappening]] = {
    BatchEventKind.GARMENT_ADDED: GarmentAdded,
    BatchEventKind.TAKEN_OUT: GarmentTakenOut,
    BatchEventKind.PUT_BACK: GarmentPutBack,
    BatchEventKind.CORRECTED: WearerCorrected,
    BatchEventKind.PRIORITY_SET: PrioritySet,
    BatchEventKind.CLOSED: BatchClosed,
    BatchEventKind.REOPENED: BatchReopened,
    BatchEventKind.WITHDRAWN: BatchWithdrawn,
}
_KINDS = {made: kind for kind, made in _TYPES.items()}


def batch_kind_of(what: BatchHappening) -> BatchEventKind:
    """Return the kind that is stored beside the event's own fields."""
    return _KINDS[type(what)]


def batch_happening_to_json(what: BatchHappening) -> dict[str, Any]:
    """Return the event's own fields, each under its name."""
    return asdict(what)


def batch_happening_from_json(kind: BatchEventKind, data: dict[str, Any]) -> BatchHappening:
    """Return the event that `batch_happening_to_json` wrote."""
    return _TYPES[kind](**data)
