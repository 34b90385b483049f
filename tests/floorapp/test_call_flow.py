"""When the next garment and the outlook are worked out: once for each event, one at a time, if shown."""

from floorapp.background import AtOnce
from floorapp.call_flow import OUTLOOK_EVERY_NS, CallFlow
from models.errors import StorageError
from models.floor.calling import Call, Outlook
from tests.held_clock import HeldClock


class Counted:
    """Counts how often it is asked; the floor has nothing to call."""

    def __init__(self) -> None:
        self.calls = self.outlooks = 0

    def call(self) -> Call | None:
        self.calls += 1
        return None

    def outlook(self) -> Outlook | None:
        self.outlooks += 1
        return None


class Unreadable(Counted):
    def call(self) -> Call | None:
        raise StorageError("the disk is full")


class Waiting:
    """A background that has begun work and not ended it."""

    def run(self, *_: object) -> None:
        """Nothing comes back."""

    def tell(self, *_: object) -> None:
        """Nothing comes back."""


def test_the_call_is_worked_out_once_for_each_event(clock: HeldClock) -> None:
    counted = Counted()
    calls = CallFlow(counted, clock, AtOnce())
    for _ in range(3):
        calls.tick(is_call_shown=True, is_outlook_shown=False)
    calls.moved()
    calls.tick(is_call_shown=True, is_outlook_shown=False)

    assert counted.calls == 2


def test_nothing_is_worked_out_for_a_screen_that_does_not_show_it(clock: HeldClock) -> None:
    counted = Counted()
    CallFlow(counted, clock, AtOnce()).tick(is_call_shown=False, is_outlook_shown=False)

    assert (counted.calls, counted.outlooks) == (0, 0)


def test_the_outlook_is_worked_out_now_and_then(clock: HeldClock) -> None:
    counted = Counted()
    calls = CallFlow(counted, clock, AtOnce())
    for _ in range(3):
        calls.tick(is_call_shown=False, is_outlook_shown=True)
    clock.advance(OUTLOOK_EVERY_NS / 1e9)
    calls.tick(is_call_shown=False, is_outlook_shown=True)

    assert counted.outlooks == 2


def test_a_floor_that_cannot_be_read_has_no_call_and_is_tried_again(clock: HeldClock) -> None:
    calls = CallFlow(Unreadable(), clock, AtOnce())
    calls.tick(is_call_shown=True, is_outlook_shown=False)
    calls.tick(is_call_shown=False, is_outlook_shown=True)

    assert calls.call is None


def test_only_one_is_worked_out_at_a_time(clock: HeldClock) -> None:
    begun: list[object] = []

    class Slow(Waiting):
        def run(self, *work: object) -> None:
            begun.append(work)

    calls = CallFlow(Counted(), clock, Slow())
    calls.tick(is_call_shown=True, is_outlook_shown=True)
    calls.moved()
    calls.tick(is_call_shown=True, is_outlook_shown=True)

    assert len(begun) == 1


def test_a_slow_outlook_is_followed_by_none_for_twenty_times_as_long(clock: HeldClock) -> None:
    class Slow(Counted):
        def outlook(self) -> Outlook | None:
            clock.advance(4)
            return super().outlook()

    slow = Slow()
    calls = CallFlow(slow, clock, AtOnce())
    counted = []
    for _ in range(8):
        calls.tick(is_call_shown=False, is_outlook_shown=True)
        counted.append(slow.outlooks)
        clock.advance(19)

    assert counted == [1, 1, 1, 1, 1, 2, 2, 2]
