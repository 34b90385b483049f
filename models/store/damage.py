"""Damaged records: each is named once and left out, and the rest goes on."""

from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from typing import TypeVar

from models.errors import IllegalEventError
from models.store.checksums import is_text
from models.store.errors import DamagedRecordError

T = TypeVar("T")

UNREADABLE_DATA = (ValueError, TypeError, LookupError, AttributeError, IllegalEventError)
"""What reading raises if stored data is not what was written: a kind, key, number or order is wrong."""


class Fence:
    """Keeps damaged records away from those who read lists, and remembers which they were."""

    def __init__(self) -> None:
        self._met: dict[str, None] = {}  # a dict, for its order

    @property
    def told(self) -> tuple[str, ...]:
        """One line for each damaged record met so far."""
        return tuple(self._met)

    def sound(self, read: Iterable[T | DamagedRecordError]) -> Iterator[T]:
        """Yield the sound records; remember the others."""
        for record in read:
            if isinstance(record, DamagedRecordError):
                self.note(record)
            else:
                yield record

    @contextmanager
    def noting(self) -> Iterator[None]:
        """Remember the damaged record that the block meets, which refuses what was asked."""
        try:
            yield
        except DamagedRecordError as error:
            self.note(error)
            raise

    def note(self, damaged: DamagedRecordError) -> None:
        self._met[str(damaged)] = None


def sound(record: T | DamagedRecordError) -> T:
    """Return the record. Raises it if it is damaged."""
    if isinstance(record, DamagedRecordError):
        raise record
    return record


def read_whole(what: Callable[[], T], named: str) -> T:
    """Return what is read. Raises DamagedRecordError with the name if the stored data cannot be read."""
    try:
        return what()
    except UNREADABLE_DATA as error:
        raise damaged(named) from error


def damaged(named: str) -> DamagedRecordError:
    return DamagedRecordError(
        f"{named} is damaged in the database and left out, the rest goes on; "
        "look with `floorapp check`, then put a copy back with `floorapp restore`"
    )


def batch_named(reference: object) -> str:
    return f"batch {reference}" if is_text(reference) else "a batch whose reference cannot be read"


def garment_named(n: object, reference: object) -> str:
    """Name a garment by its place in the batch, and nobody who wears it."""
    place = f"garment {n}" if isinstance(n, int) else "a garment"
    return f"{place} of {batch_named(reference)}"
