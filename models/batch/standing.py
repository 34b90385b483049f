"""The fold: a batch's events, in order, become how it stands now."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum

from models.batch.events import (
    BatchClosed,
    BatchEvent,
    BatchHappening,
    BatchReopened,
    BatchWithdrawn,
    GarmentAdded,
    GarmentPutBack,
    GarmentTakenOut,
    PrioritySet,
    WearerCorrected,
)
from models.errors import IllegalEventError


class Standing(StrEnum):
    OPEN = "open"
    CLOSED = "closed"
    WITHDRAWN = "withdrawn"


@dataclass(frozen=True, slots=True)
class BatchNow:
    """How a batch stands. Garments are named by their codes.

    `remade` gives for a spoiled garment the one made in its place, `taken_out` the reason for each garment
    that was, `wearers` the corrected name and number.
    """

    standing: Standing = Standing.OPEN
    priority: int = 0
    added: tuple[str, ...] = ()
    remade: Mapping[str, str] = field(default_factory=dict)
    taken_out: Mapping[str, str] = field(default_factory=dict)
    wearers: Mapping[str, tuple[str, str]] = field(default_factory=dict)
    seq: int = 0


def fold_batch(events: Iterable[BatchEvent]) -> BatchNow:
    """Return how the batch stands after all `events`.

    Raises IllegalEventError if an event does not fit the ones before it.
    """
    now = BatchNow()
    for event in events:
        now = advance_batch(now, event)
    return now


def advance_batch(now: BatchNow, event: BatchEvent) -> BatchNow:
    """Return how the batch stands after one more event; `now` itself stays as it was.

    Raises IllegalEventError if the batch, or the garment, is not in a state for it.
    """
    _refuse_misfits(now, event.what)
    return replace(_with_effect(now, event.what), seq=event.seq)


def _refuse_misfits(now: BatchNow, what: BatchHappening) -> None:
    match now.standing, what:
        case Standing.WITHDRAWN, _:
            raise IllegalEventError("this batch was taken back; nothing more happens to it")
        case Standing.CLOSED, BatchReopened():
            return
        case Standing.CLOSED, _:
            raise IllegalEventError("this batch is closed; reopen it first")
        case _, BatchReopened():
            raise IllegalEventError("this batch is open already")
    match what:
        case GarmentAdded(remake_of=spoiled) if spoiled in now.remade:
            raise IllegalEventError(f"{spoiled} was made again already, as {now.remade[spoiled]}")
        case GarmentTakenOut(code) if code in now.taken_out:
            raise IllegalEventError(f"{code} was taken out already")
        case GarmentTakenOut(reason=""):
            raise IllegalEventError("a garment is taken out for a reason; say which")
        case GarmentPutBack(code) if code not in now.taken_out:
            raise IllegalEventError(f"{code} was not taken out")


def _with_effect(now: BatchNow, what: BatchHappening) -> BatchNow:
    match what:
        case GarmentAdded(code=code, remake_of=spoiled):
            remade = {**now.remade, spoiled: code} if spoiled else now.remade
            return replace(now, added=(*now.added, code), remade=remade)
        case GarmentTakenOut(code, reason):
            return replace(now, taken_out={**now.taken_out, code: reason})
        case GarmentPutBack(code):
            left = {other: why for other, why in now.taken_out.items() if other != code}
            return replace(now, taken_out=left)
        case WearerCorrected(code, wearer, number):
            return replace(now, wearers={**now.wearers, code: (wearer, number)})
        case PrioritySet(priority):
            return replace(now, priority=priority)
        case BatchClosed():
            return replace(now, standing=Standing.CLOSED)
        case BatchReopened():
            return replace(now, standing=Standing.OPEN)
        case BatchWithdrawn():
            return replace(now, standing=Standing.WITHDRAWN)
