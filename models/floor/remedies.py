"""One function a remedy: what is done about a garment that was spoiled, or a batch that was loaded wrongly.

Every remedy takes the garment or the batch as it was last read, and stores one event of the batch. Each
raises BatchMovedError if somebody else has changed the batch in between, and IllegalEventError or
NoRemedyError if batch or garment is not in a state for it. Nothing is stored then.
"""

from models.batch.events import (
    BatchClosed,
    BatchHappening,
    BatchReopened,
    BatchWithdrawn,
    GarmentAdded,
    GarmentPutBack,
    GarmentTakenOut,
    PrioritySet,
    WearerCorrected,
)
from models.floor.work import Seat
from models.job.roster import LONGEST
from models.job.sizes import sizes_of
from models.plain_text import composed, is_one_line
from models.store.errors import NoRemedyError
from models.store.records import BatchHead, StoredGarment
from models.store.store import Store
from models.tags.code import spoken


class Remedies:
    """The remedies of one station."""

    def __init__(self, store: Store, seat: Seat) -> None:
        self.store, self.seat = store, seat

    def make_again(self, garment: StoredGarment) -> str:
        """Add a garment for the wearer of a spoiled one, and return its new tag code."""
        row = garment.row
        if row.remade_as:
            raise NoRemedyError(
                f"{spoken(row.code)} was made again already, as {spoken(row.remade_as)}; go on with that one"
            )
        return self._add(
            garment.batch, GarmentAdded("", 0, row.size, row.wearer, row.number, remake_of=row.code)
        )

    def add(self, batch: BatchHead, size: str, wearer: str, number: str) -> str:
        """Add a garment to the batch, and return its new tag code. The recipe has to know its size."""
        sizes = self.sizes(batch)
        if size not in sizes:
            raise NoRemedyError(
                f"batch {batch.reference} has no size {size}: its hits were worked out for "
                f"{', '.join(sizes)}; choose one of those, or load another batch"
            )
        return self._add(batch, GarmentAdded("", 0, size, *_on_a_tag(wearer, number)))

    def sizes(self, batch: BatchHead) -> tuple[str, ...]:
        """Return the sizes that the batch's recipe knows, that of most garments first."""
        return sizes_of(self.store.recipe(batch.id).job)

    def take_out(self, garment: StoredGarment, reason: str) -> StoredGarment:
        """Take a garment that has not ended out of its batch."""
        return self._about(garment, GarmentTakenOut(garment.row.code, reason))

    def put_back(self, garment: StoredGarment) -> StoredGarment:
        """Let a garment that was taken out go on where it was."""
        return self._about(garment, GarmentPutBack(garment.row.code))

    def correct(self, garment: StoredGarment, wearer: str, number: str) -> StoredGarment:
        """Correct the wearer's name or number; the tag code stays, so the old tag still scans."""
        row, (wearer, number) = garment.row, _on_a_tag(wearer, number)
        if (wearer, number) == (row.wearer, row.number):
            raise NoRemedyError(f"{spoken(row.code)} has this name and number already; change one of them")
        return self._about(garment, WearerCorrected(row.code, wearer, number, row.wearer, row.number))

    def close(self, batch: BatchHead) -> BatchHead:
        """Close a batch whose garments have all ended: it leaves the Floor."""
        return self._of_batch(batch, BatchClosed())

    def reopen(self, batch: BatchHead) -> BatchHead:
        """Put a closed batch on the Floor again."""
        return self._of_batch(batch, BatchReopened())

    def withdraw(self, batch: BatchHead) -> BatchHead:
        """Take back a wrongly loaded batch of which nothing was pressed; its reference is free again."""
        return self._of_batch(batch, BatchWithdrawn(batch.reference))

    def set_priority(self, batch: BatchHead, priority: int) -> BatchHead:
        """Let the batch go before those of a lower priority."""
        return self._of_batch(batch, PrioritySet(priority))

    def _add(self, batch: BatchHead, wanted: GarmentAdded) -> str:
        return self.store.add_garment(batch, wanted, self.seat.station, self.seat.person)

    def _about(self, garment: StoredGarment, what: BatchHappening) -> StoredGarment:
        self._of_batch(garment.batch, what)
        return self.store.garment(garment.row.code)

    def _of_batch(self, batch: BatchHead, what: BatchHappening) -> BatchHead:
        return self.store.record_batch(batch, what, self.seat.station, self.seat.person)


def _on_a_tag(wearer: str, number: str) -> tuple[str, str]:
    """Return both with single blanks. Raises NoRemedyError if one cannot be printed on a tag."""
    wearer, number = (composed(" ".join(text.split())) for text in (wearer, number))
    for key, text in (("name", wearer), ("number", number)):
        if len(text) > LONGEST[key] or not is_one_line(text):
            raise NoRemedyError(f"this {key} is too long, or has signs that cannot be printed; retype it")
    return wearer, number
