"""Which waits this run of the app has timed itself; of the others only the times in the record tell.

The computer's clock may have been set between two runs. On a server there is no such doubt: all stations and
all runs go by its clock.
"""

from datetime import datetime

from models.garment.cycle import State
from models.garment.events import Opened, Rested
from models.store.records import GarmentRow, StoredGarment


class ThisRun:
    """A wait counts from the opening of the press: it is timed here if the opening was stored here."""

    def __init__(self, *, shares_a_clock: bool) -> None:
        self._shares_a_clock = shares_a_clock
        self._openings: set[tuple[str, datetime | None]] = set()
        self._ends: set[tuple[str, datetime | None]] = set()

    def stored(self, before: StoredGarment, after: StoredGarment) -> None:
        """A tap of this run has led from `before` to `after`."""
        code, progress = after.row.code, after.progress
        tapped = [event.what for event in after.log[len(before.log) :]]
        opening = (code, progress.opened_at)
        if any(isinstance(what, Opened) for what in tapped):
            self._openings.add(opening)
        rests_on = before.progress.state == State.RESTING and any(isinstance(what, Rested) for what in tapped)
        if opening in self._openings or rests_on:
            self._ends.add((code, progress.ready_at))

    def is_doubtful(self, row: GarmentRow) -> bool:
        """Whether the garment waits for an end that another run of the app has set."""
        waits = row.rest_ends_at is not None and not self._shares_a_clock
        return waits and (row.code, row.rest_ends_at) not in self._ends
