"""How this station's press was closed, and the hits that it has running.

Each countdown belongs to the closing that it was started with.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime

from models.clock import Clock
from models.garment.countdown import Countdown
from models.garment.cycle import State
from models.job.job import Pressure
from models.store.records import GarmentRow, StoredGarment


@dataclass(frozen=True, slots=True)
class PressSetting:
    """How a press of the station was last closed, so that a change is told."""

    temperature_c: float
    pressure: Pressure
    pad: bool
    cover: bool


@dataclass(frozen=True, slots=True)
class RunningHit:
    """`closed_at` is the closing that was counted; `row` is the garment as this station last saw it.

    `press` is empty where there is only one. `is_from_record` if this run has not seen the
    closing: the countdown began from the time in the record.
    """

    countdown: Countdown
    closed_at: datetime | None
    row: GarmentRow
    press: str
    is_from_record: bool = False


class RunningHits:
    """Asked by the screen, the rail and the calls alike.

    `last_settings` is how each press was closed last, the one closed last at the end.
    """

    def __init__(self, clock: Clock) -> None:
        self._clock = clock
        self.last_settings: dict[str, PressSetting] = {}
        self._hits: dict[str, RunningHit] = {}

    def begin(self, garment: StoredGarment, countdown: Countdown) -> None:
        """The press came down on the garment when `countdown` was started."""
        hit = garment.progress.hit
        self.count(garment, countdown)
        self.last_settings.pop(hit.press, None)
        self.last_settings[hit.press] = PressSetting(hit.temperature_c, hit.pressure, hit.pad, hit.cover)

    def count_on(self, garment: StoredGarment) -> None:
        """The press is still closed: its hit is counted on from the closing that the record tells of."""
        progress = garment.progress
        closed_at = progress.closed_at or self._clock.utc_now()
        run_s = max(0.0, (self._clock.utc_now() - closed_at).total_seconds())
        countdown = Countdown.start(self._clock, progress.hit.dwell_s, run_s)
        self.begin(garment, countdown)
        self._hits[garment.row.code] = replace(self._hits[garment.row.code], is_from_record=True)

    def is_from_record(self, row: GarmentRow) -> bool:
        """Whether its hit is counted on from the time in the record."""
        hit = self._hits.get(row.code)
        return hit is not None and hit.is_from_record

    def count(self, garment: StoredGarment, countdown: Countdown) -> None:
        """Count the hit of the garment, whose closing may still wait to be stored."""
        hit, closed_at = garment.progress.hit, garment.progress.closed_at
        self._hits[garment.row.code] = RunningHit(countdown, closed_at, garment.row, hit.press)

    def drop(self, code: str) -> None:
        """Count the hit of this garment no more."""
        self._hits.pop(code, None)

    def follow(self, garment: StoredGarment) -> None:
        """The garment was worked or read anew: its countdown goes on only with the same closing."""
        hit = self._hits.pop(garment.row.code, None)
        if hit is not None and hit.closed_at == garment.progress.closed_at:
            self._hits[garment.row.code] = replace(hit, row=garment.row)

    def countdown_of(self, row: GarmentRow) -> Countdown | None:
        """The running hit of a garment; None where none runs, or where nobody can say how far it is:
        it was closed elsewhere or before the app was opened, or another station has worked it since.
        """
        hit = self._hits.get(row.code)
        if row.state != State.PRESSING or hit is None or hit.row.updated_at != row.updated_at:
            return None
        return hit.countdown

    def press_of(self, row: GarmentRow) -> str:
        """The press that its counted hit runs on; empty where there is only one, or none was counted."""
        hit = self._hits.get(row.code)
        return hit.press if hit is not None else ""

    def holder(self, rows: Iterable[GarmentRow], garment: StoredGarment) -> GarmentRow | None:
        """Of garments under a press the one on the press of this garment's hit, as far as is known here."""
        press = garment.progress.hit.press
        others = (row for row in rows if row.code != garment.row.code)
        return next((row for row in others if self.press_of(row) == press), None)

    def to_open(self, rows: Iterable[GarmentRow]) -> tuple[GarmentRow, ...]:
        """Of garments under a press those that want a person: first the one whose hit has been over for the
        longest, last those whose hits nobody has counted.
        """
        overruns = [(self._overrun_s(row), row) for row in rows]
        due = [(overrun_s, row) for overrun_s, row in overruns if overrun_s is not None]
        return tuple(row for _, row in sorted(due, key=lambda pair: -pair[0]))

    def _overrun_s(self, row: GarmentRow) -> int | None:
        """Seconds since the end of its hit, -1 where nobody can say; None while it runs."""
        countdown = self.countdown_of(row)
        if countdown is None:
            return -1
        return countdown.overrun_s(self._clock) if countdown.is_over(self._clock) else None
