"""What the Floor screen and the rest rail list, read from the store in one go, off the screen's thread."""

from dataclasses import dataclass
from datetime import datetime

from models.store.records import BatchProgress, GarmentRow
from models.store.store import Store


@dataclass(frozen=True, slots=True)
class FloorLists:
    """The resting garments, those in hand at this station, and the batches with their counts.

    `newest_at` is when a garment was worked last at any station, `damaged` names the damaged records that
    were met.
    """

    resting: tuple[GarmentRow, ...] = ()
    in_work: tuple[GarmentRow, ...] = ()
    batches: tuple[BatchProgress, ...] = ()
    newest_at: datetime | None = None
    damaged: tuple[str, ...] = ()


def read_lists(store: Store, station: str, known: FloorLists, *, with_batches: bool) -> FloorLists:
    """Read the lists anew. Counting all batches costs the most: without it they stay as `known`.

    Raises StorageError.
    """
    batches, newest_at = known.batches, known.newest_at
    if with_batches:
        batches, newest_at = store.batches(), store.newest_at()
    resting, in_work = store.resting(), store.in_work(station)
    return FloorLists(resting, in_work, batches, newest_at, store.damaged)
