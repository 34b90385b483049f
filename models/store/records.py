"""What the store gives out: frozen records, none of them tied to a database connection."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from uuid import UUID

from models.garment.cycle import State
from models.garment.events import Event
from models.garment.progress import Progress


@dataclass(frozen=True, slots=True)
class BatchHead:
    """A batch without its recipe; `garments` is how many it has."""

    id: UUID
    reference: str
    name: str
    due: date | None
    garments: int
    created_at: datetime


@dataclass(frozen=True, slots=True)
class GarmentRow:
    """A garment as lists show it. `station` is where it was last worked, empty before that."""

    id: UUID
    code: str
    batch_reference: str
    n: int
    size: str
    wearer: str
    number: str
    state: State
    rest_ends_at: datetime | None
    station: str
    updated_at: datetime


@dataclass(frozen=True, slots=True)
class StoredGarment:
    """A garment with its whole log; `progress` is the fold of that log."""

    row: GarmentRow
    batch: BatchHead
    log: tuple[Event, ...]
    progress: Progress


@dataclass(frozen=True, slots=True)
class BatchProgress:
    """How many garments of a batch are in each state; a state that none is in counts 0.

    Sizes stand in the order in which the roster first names them.
    """

    head: BatchHead
    by_state: Mapping[State, int]
    by_size: Mapping[str, Mapping[State, int]]
