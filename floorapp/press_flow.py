"""The press of the garment in hand, without a window: it closes, it opens, and late taps are asked about."""

from dataclasses import dataclass, replace

from floorapp.running_hits import RunningHits
from floorapp.signals import Signals
from floorapp.views import Cue
from models.clock import Clock
from models.errors import FloorError, PressInUseError, StorageError
from models.floor.openings import LATE_TAP_S
from models.floor.work import FloorWork
from models.garment.countdown import Countdown
from models.garment.cycle import State
from models.job.job import Peel
from models.store.records import GarmentRow, StoredGarment
from models.tags.code import spoken


@dataclass(frozen=True, slots=True)
class Closing:
    """The press came down on `garment` when `countdown` began, and the store does not have it yet.

    `refusal` says why the store did not take it; empty while it is still being stored.
    """

    garment: StoredGarment
    countdown: Countdown
    refusal: str = ""

    @property
    def as_pressing(self) -> StoredGarment:
        """The garment as it stands at the press, not as it is stored."""
        return replace(self.garment, row=replace(self.garment.row, state=State.PRESSING))


class PressFlow:
    """`running` says how far this station's hits are. `late_s` is what passed from the closing to a tap that
    came too late to say when the press was opened; None where nothing is to be asked. `is_said_open` while an
    opening waits to be stored.
    """

    def __init__(self, work: FloorWork, clock: Clock, signals: Signals) -> None:
        self.running = RunningHits(clock)
        self.late_s: int | None = None
        self.closing: Closing | None = None
        self.is_said_open = False
        self._work, self._clock, self._signals = work, clock, signals

    @property
    def not_stored(self) -> tuple[GarmentRow, ...]:
        """The garment under a press whose closing is not stored yet, if there is one."""
        return (self.closing.as_pressing.row,) if self.closing is not None else ()

    def closing_of(self, garment: StoredGarment) -> Closing | None:
        """Its closing that is not stored yet."""
        is_its = self.closing is not None and self.closing.garment.row.code == garment.row.code
        return self.closing if is_its else None

    def countdown_of(self, garment: StoredGarment) -> Countdown | None:
        """Its running hit, stored or not, where this station knows how far it is."""
        closing = self.closing_of(garment)
        return closing.countdown if closing is not None else self.running.countdown_of(garment.row)

    def follow(self, garment: StoredGarment) -> None:
        """The garment in hand was worked or read anew: whatever was asked about it no longer is."""
        self.late_s, self.is_said_open = None, False
        closing = self.closing_of(garment)
        if closing is not None and closing.garment.progress.seq == garment.progress.seq:
            return
        self.closing = None if closing is not None else self.closing
        if closing is not None and closing.countdown.started_at == garment.progress.closed_at:
            self.running.begin(garment, closing.countdown)  # it was stored, though nobody could say so
        self.running.follow(garment)

    # A closing counts from the tap. It is stored off the screen's thread, and told when it is.

    def begin_closing(self, garment: StoredGarment) -> Closing:
        """The press came down now; or earlier, if the store refused the closing before.

        Raises PressInUseError if the closing of another garment is not stored yet.
        """
        earlier = self.closing_of(garment)
        if self.closing is not None and earlier is None:
            code = self.closing.garment.row.code
            raise PressInUseError(f"the closing of {spoken(code)} is not stored yet; see to that first", code)
        countdown = Countdown.start(self._clock, garment.progress.hit.dwell_s)
        self.closing = Closing(garment, earlier.countdown if earlier is not None else countdown)
        self.running.count(self.closing.as_pressing, self.closing.countdown)
        return self.closing

    def refused(self, error: FloorError) -> None:
        """The store did not take a tap. The hit runs on if the store failed; else it was not to begin."""
        self.is_said_open = False
        if self.closing is None:
            return
        if isinstance(error, StorageError):
            self.closing = replace(self.closing, refusal=str(error))
        else:
            self.drop_closing()

    def drop_closing(self) -> None:
        """The press did not come down after all."""
        if self.closing is not None:
            self.running.drop(self.closing.garment.row.code)
        self.closing = None

    def opened(self, garment: StoredGarment) -> None:
        """The opening is stored: what comes off hot comes off now, and so does what nobody has timed."""
        progress = garment.progress
        waits = progress.next_peel == Peel.COLD or progress.ready_at is not None
        if progress.state == State.PEELING and not waits:
            self._signals.add(Cue.PEEL_NOW)

    def seconds_at_opening(self, garment: StoredGarment) -> int | None:
        """The seconds of a hit that is opened at its end or soon after; None if only the operator knows."""
        countdown = self.running.countdown_of(garment.row)
        if countdown is None:  # another station has worked it since the button was drawn
            return None
        if countdown.overrun_s(self._clock) > LATE_TAP_S:
            self.late_s = countdown.run_s(self._clock)
            return None
        return countdown.seconds

    def closed_s(self, garment: StoredGarment) -> int | None:
        """What this run of the app has counted since the closing [s]; None if it has not seen that."""
        countdown = self.running.countdown_of(garment.row)
        is_seen = countdown is not None and not self.running.is_from_record(garment.row)
        return countdown.run_s(self._clock) if countdown is not None and is_seen else None

    def is_doubtful(self, row: GarmentRow) -> bool:
        """Whether its countdown hangs on a clock that may have been set since; a server's has no doubt."""
        return self.running.is_from_record(row) and not self._work.store.is_on_server

    # Each stores one tap, off the screen's thread. Raises what FloorWork's own actions raise.

    def close(self, closing: Closing) -> StoredGarment:
        return self._work.close(closing.garment, closing.countdown.started_at)

    def open(self, garment: StoredGarment, seconds: int) -> StoredGarment:
        return self._work.open(garment, seconds)

    def open_after(self, garment: StoredGarment, seconds: int, closed_s: int | None) -> StoredGarment:
        """After so many seconds, by the operator's own word; `closed_s` is what was counted, if it was."""
        return self._work.open(garment, seconds, judged=True, closed_s=closed_s)
