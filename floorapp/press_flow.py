"""The press of the garment in hand, without a window: it closes, it opens, and late taps are asked about."""

from floorapp.running_hits import RunningHits
from floorapp.signals import Signals
from floorapp.views import Cue
from models.clock import Clock
from models.floor.openings import LATE_TAP_S
from models.floor.work import FloorWork
from models.garment.countdown import Countdown
from models.garment.cycle import State
from models.job.job import Peel
from models.store.records import StoredGarment


class PressFlow:
    """`running` says how far this station's hits are. `late_s` is what passed from the closing to a tap that
    came too late to say when the press was opened; None where nothing is to be asked.
    """

    def __init__(self, work: FloorWork, clock: Clock, signals: Signals) -> None:
        self.running = RunningHits(clock)
        self.late_s: int | None = None
        self._work, self._clock, self._signals = work, clock, signals

    def follow(self, garment: StoredGarment) -> None:
        """The garment in hand was worked or read anew: whatever was asked about it no longer is."""
        self.late_s = None
        self.running.follow(garment)

    # Each stores one tap. Raises what FloorWork's own actions raise.

    def close(self, garment: StoredGarment) -> StoredGarment:
        countdown = Countdown.start(self._clock, garment.progress.hit.dwell_s)
        closed = self._work.close(garment)
        self.running.begin(closed, countdown)
        return closed

    def open(self, garment: StoredGarment) -> StoredGarment | None:
        """At the end of the countdown or soon after; None where only the operator can say when it was."""
        countdown = self.running.countdown_of(garment.row)
        if countdown is None:  # the machine slept since the button was drawn
            return None
        if countdown.overrun_s(self._clock) > LATE_TAP_S:
            self.late_s = countdown.seconds + countdown.overrun_s(self._clock)
            return None
        return self._opened(garment, countdown.seconds, judged=False)

    def open_after(self, garment: StoredGarment, seconds: int) -> StoredGarment:
        """After so many seconds, by the operator's own word."""
        return self._opened(garment, seconds, judged=True)

    def _opened(self, garment: StoredGarment, seconds: int, *, judged: bool) -> StoredGarment:
        opened = self._work.open(garment, seconds, judged=judged)
        if opened.progress.state == State.PEELING and opened.progress.next_peel != Peel.COLD:
            self._signals.cues.append(Cue.PEEL_NOW)
        return opened
