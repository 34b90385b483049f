"""Reads the garments that can be called. An event costs no more than the garments that it has moved."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from functools import cached_property
from itertools import islice
from uuid import UUID

from models.floor.due_dates import urgency
from models.garment.cycle import ENDED, State
from models.garment.events import Event
from models.garment.progress import Progress, begin, fold
from models.rotation.floor_now import OnFloor
from models.rotation.times.hands_seen import Mark, marks_of
from models.store.damage import UNREADABLE_DATA
from models.store.errors import DamagedRecordError
from models.store.records import BatchHead, BatchProgress, GarmentRow
from models.store.store import Store

FEW = 20
"""So many moved garments of a batch are read one by one. Of more, all logs are read in one query."""
FIRST_READ = 24
"""Of a batch that nobody has begun, so many garments are read: those that can be called next."""
MOST_TO_BEGIN = 3
"""So many batches that nobody has begun are read at once, the most urgent ones."""

Read = tuple[GarmentRow, Progress, Sequence[Event]]
"""A garment as it was read just now."""
Moves = tuple[dict[str, int], tuple[BatchHead, ...], tuple[GarmentRow, ...]]


@dataclass(frozen=True)
class Known:
    """A garment as it was read last, `of` so many of its batch."""

    row: GarmentRow
    of: int
    on_floor: OnFloor

    @cached_property
    def marks(self) -> tuple[Mark, ...]:
        return marks_of(self.on_floor.progress.recipe, self.on_floor.log)


class FloorReader:
    """Keeps what it has read. What has moved is found by how far each log goes, never by times.

    `known` are the garments of batches in work, by code. Nobody has begun the batches `to_begin`, which are
    called nevertheless; `next_up` are their first garments. `reading` counts readings that found a change.
    """

    def __init__(self, store: Store) -> None:
        self.store = store
        self.known: dict[str, Known] = {}
        self.next_up: dict[str, Known] = {}
        self.in_work: tuple[BatchProgress, ...] = ()
        self.to_begin: tuple[BatchProgress, ...] = ()
        self.reading = 0
        self._moves: Moves = ({}, (), ())
        self._tried: dict[str, int] = {}  # how far each log went when it was read, or could not be
        self._idle: dict[tuple[UUID, str], Progress] = {}

    @property
    def heads(self) -> tuple[BatchHead, ...]:
        return tuple(batch.head for batch in (*self.in_work, *self.to_begin))

    def read(self) -> None:
        """Read what has moved since the last reading."""
        batches = self.store.batches()
        self.in_work = tuple(b for b in batches if is_in_work(b) and self._is_readable(b))
        self.to_begin = self._called_to_begin(filter(is_waiting, batches))
        log_ends: dict[str, int] = {}
        for batch in self.in_work:
            ends = self.store.log_ends(batch.head.id)
            self._take_in(batch.head, self._moved(batch.head, ends))
            log_ends |= ends
        self.known = {code: known for code, known in self.known.items() if code in log_ends}
        self._tried = log_ends
        first = (known for batch in self.to_begin for known in self._first_of(batch.head))
        self.next_up = {known.row.code: known for known in first}
        self._note((log_ends, self.heads, tuple(known.row for known in self.next_up.values())))

    def waiting(self) -> Iterator[OnFloor]:
        """Give all garments of `to_begin` by their count alone: no garment of them is read."""
        for batch in self.to_begin:
            for size, by_state in batch.by_size.items():
                for n in range(by_state.get(State.IDLE, 0)):
                    code = f"{batch.head.reference} {size} {n}"
                    yield OnFloor(code, batch.head.reference, self.idle(batch.head, size), ())

    def _called_to_begin(self, waiting: Iterable[BatchProgress]) -> tuple[BatchProgress, ...]:
        """Return the batches to begin, the most urgent first: those more urgent than another that goes on.

        If none goes on, only the most urgent one is begun; of several, the one that was loaded first.
        """
        order = sorted(waiting, key=lambda batch: (urgency(batch.head), batch.head.created_at))
        going_on = [urgency(batch.head) for batch in self.in_work if _goes_on(batch)]
        if going_on:
            order = [batch for batch in order if urgency(batch.head) < max(going_on)]
        return tuple(islice(filter(self._is_readable, order), MOST_TO_BEGIN if going_on else 1))

    def _note(self, moves: Moves) -> None:
        if moves != self._moves:
            self._moves = moves
            self.reading += 1

    def _moved(self, head: BatchHead, ends: Mapping[str, int]) -> list[str]:
        """Give the codes of what has moved. An event of the batch itself may have changed any of them."""
        is_same_batch = head in self._moves[1]
        return [code for code, seq in ends.items() if not is_same_batch or self._tried.get(code) != seq]

    def _first_of(self, head: BatchHead) -> Iterator[Known]:
        for row in self.store.garments(head.reference, FIRST_READ):
            if not row.taken_out:
                yield self._made(head, row, self.idle(head, row.size), ())

    def _take_in(self, head: BatchHead, moved: Collection[str]) -> None:
        """Know these garments as they are now. A damaged one is not called; the store tells of it."""
        garments = self._one_by_one(moved) if len(moved) <= FEW else self._all_of(head, moved)
        read = {row.code: self._made(head, row, progress, log) for row, progress, log in garments}
        for code in set(moved) - set(read):
            self.known.pop(code, None)
        self.known |= read

    def _one_by_one(self, codes: Iterable[str]) -> Iterator[Read]:
        for code in codes:
            with suppress(DamagedRecordError):
                garment = self.store.garment(code)
                yield garment.row, garment.progress, garment.log

    def _all_of(self, head: BatchHead, moved: Collection[str]) -> Iterator[Read]:
        """Read many of a batch in one query. One whose log cannot be folded is read alone, to be told of."""
        wanted, unread = set(moved), []
        for row, log in self.store.logs(head.reference):
            if row.code not in wanted:
                continue
            progress = self.idle(head, row.size)
            try:
                yield row, fold(progress.recipe, log) if log else progress, log
            except UNREADABLE_DATA:
                unread.append(row.code)
        yield from self._one_by_one(unread)

    def _is_readable(self, batch: BatchProgress) -> bool:
        """Whether the batch's recipe can be read. The store tells of one that is damaged."""
        try:
            self.store.recipe(batch.head.id)
        except DamagedRecordError:
            return False
        return True

    def _made(self, head: BatchHead, row: GarmentRow, progress: Progress, log: Sequence[Event]) -> Known:
        on_floor = OnFloor(row.code, head.reference, progress, tuple(log), self.reading + 1)
        before = self.known.get(row.code)
        if before is not None and before.on_floor.last_closing == on_floor.last_closing:
            on_floor = OnFloor(row.code, head.reference, progress, tuple(log), before.on_floor.reading)
        return Known(row, head.garments, on_floor)

    def idle(self, head: BatchHead, size: str) -> Progress:
        """Return the progress of a garment that nobody has begun. All of a size share it."""
        if (head.id, size) not in self._idle:
            self._idle[head.id, size] = begin(self.store.recipe_of_size(head.id, size))
        return self._idle[head.id, size]


def is_waiting(batch: BatchProgress) -> bool:
    """Whether nobody has begun any of its garments."""
    begun = any(many for state, many in batch.by_state.items() if state != State.IDLE)
    return not begun and not batch.has_ended


def is_in_work(batch: BatchProgress) -> bool:
    """Whether any of its garments has been begun, and any has not ended."""
    return not batch.has_ended and not is_waiting(batch)


def _goes_on(batch: BatchProgress) -> bool:
    return any(many for state, many in batch.by_state.items() if state not in {*ENDED, State.HELD})
