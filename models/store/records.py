"""What the store gives out: frozen records, none of them tied to a database connection."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from uuid import UUID

from models.batch.events import BatchEvent
from models.batch.standing import BatchNow, Standing
from models.garment.cycle import ENDED, State
from models.garment.events import Event
from models.garment.progress import Progress


@dataclass(frozen=True, slots=True)
class BatchHead:
    """A batch without its recipe; `garments` is how many it has ever had.

    `seq` is the last event of the batch's own log that its reader has seen.
    """

    id: UUID
    reference: str
    name: str
    due: date | None
    garments: int
    created_at: datetime
    standing: Standing
    priority: int
    seq: int


@dataclass(frozen=True, slots=True)
class StoredBatch:
    """A batch with its own log; `now` is the fold of that log."""

    head: BatchHead
    log: tuple[BatchEvent, ...]
    now: BatchNow


@dataclass(frozen=True, slots=True)
class GarmentRow:
    """A garment as lists show it. `station` is where it was last worked, empty before that.

    `rest_ends_at` is when it can be peeled, cold or warm, if it waits for that.

    `remake_of` is the spoiled garment that it stands in for, `remade_as` the one that stands in for it;
    `taken_out` is why it is out of its batch. Each is empty where there is no such thing.
    """

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
    remake_of: str
    remade_as: str
    taken_out: str


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

    Sizes stand in the order in which the roster first names them. Garments that were taken out count in
    `taken_out` only; `remade` is how many spoiled ones were made again.
    """

    head: BatchHead
    by_state: Mapping[State, int]
    by_size: Mapping[str, Mapping[State, int]]
    remade: int = 0
    taken_out: int = 0

    @property
    def has_ended(self) -> bool:
        """Whether no garment of it is still to be worked."""
        return all(not many for state, many in self.by_state.items() if state not in ENDED)

    @property
    def is_done(self) -> bool:
        """Whether every ordered garment is complete, itself or made again, or was taken out."""
        return self.has_ended and self.by_state.get(State.SPOILED, 0) == self.remade
