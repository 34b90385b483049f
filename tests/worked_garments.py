"""What is tapped at the press on a garment, and what its log holds of it."""

from typing import TypeVar

from models.floor.work import FloorWork
from models.store.records import StoredGarment
from tests.held_clock import HeldClock

Kind = TypeVar("Kind")


def pressed(work: FloorWork, garment: StoredGarment, seconds: int | None = None) -> StoredGarment:
    """Closes the press for the hit's dwell, or for `seconds`, and opens it."""
    closed = work.close(garment)
    closed_s = closed.progress.hit.dwell_s if seconds is None else seconds
    assert isinstance(work.clock, HeldClock)
    work.clock.advance(closed_s)
    return work.open(closed, closed_s)


def events_of(garment: StoredGarment, kind: type[Kind]) -> list[Kind]:
    return [event.what for event in garment.log if isinstance(event.what, kind)]
