"""The next garment and the batches' ends, worked out anew when the floor has moved, in the background."""

from collections.abc import Callable
from typing import Protocol

from floorapp.background import Background
from models.clock import Clock
from models.errors import FloorError
from models.floor.calling import Call, Outlook
from models.garment.countdown import NS_PER_S

OUTLOOK_EVERY_NS = 30 * NS_PER_S
OUTLOOK_REST = 20
"""An outlook is followed by no other for so many times as long as it took."""


class Calls(Protocol):
    """What works out the next garment and the outlook; see models.floor.calling."""

    def call(self) -> Call | None: ...
    def outlook(self) -> Outlook | None: ...


class CallFlow:
    """`call` and `outlook` are the last that were worked out; both stay as they are while new ones are.

    One is worked out at a time. A floor that cannot be read has none: the refusal of the store is told where
    something is done, not here.
    """

    def __init__(self, calls: Calls, clock: Clock, background: Background) -> None:
        self.call: Call | None = None
        self.outlook: Outlook | None = None
        self.changed: Callable[[], None] = lambda: None
        self._calls, self._clock, self._background = calls, clock, background
        self._is_busy, self._has_moved = False, True
        self._outlook_due_ns = self._outlook_begun_ns = clock.monotonic_ns()

    @property
    def called_code(self) -> str:
        """Of the garment that is called; empty where none is."""
        return self.call.row.code if self.call is not None else ""

    def moved(self) -> None:
        """Something was done on the floor: the call is worked out anew as soon as a screen shows it."""
        self._has_moved = True

    def tick(self, *, is_call_shown: bool, is_outlook_shown: bool) -> None:
        """Begins what is due of what a screen shows: the call after each event, the outlook now and then."""
        if self._is_busy:
            return
        if is_call_shown and self._has_moved:
            self._has_moved = False
            self._is_busy = True
            self._background.run(self._calls.call, self._called, self._refused)
        elif is_outlook_shown and self._clock.monotonic_ns() >= self._outlook_due_ns:
            self._outlook_begun_ns = self._clock.monotonic_ns()
            self._is_busy = True
            self._background.run(self._calls.outlook, self._looked_ahead, self._outlook_refused)

    def _called(self, call: Call | None) -> None:
        self._tell(call, self.outlook)

    def _looked_ahead(self, outlook: Outlook | None) -> None:
        """If nothing is called, the passing of time may change that: the call is worked out anew as well."""
        self._has_moved = self._has_moved or self.call is None
        self._put_off_outlook()
        self._tell(self.call, outlook)

    def _refused(self, _: FloorError) -> None:
        self._tell(None, None)

    def _outlook_refused(self, error: FloorError) -> None:
        self._put_off_outlook()
        self._refused(error)

    def _put_off_outlook(self) -> None:
        now_ns, begun_ns = self._clock.monotonic_ns(), self._outlook_begun_ns
        rested_ns = now_ns + OUTLOOK_REST * (now_ns - begun_ns)
        self._outlook_due_ns = max(begun_ns + OUTLOOK_EVERY_NS, rested_ns)

    def _tell(self, call: Call | None, outlook: Outlook | None) -> None:
        before = (self.call, self.outlook)
        self._is_busy, self.call, self.outlook = False, call, outlook
        if before != (call, outlook):
            self.changed()
