"""Long work off the screen's thread: planning a job, writing tags."""

from collections.abc import Callable
from typing import Protocol, TypeVar

from floorapp.os_errors import told_in_a_line
from models.errors import FloorError

T = TypeVar("T")


class Background(Protocol):
    """Runs work elsewhere and hands its result, or its refusal, back on the screen's thread."""

    def run(
        self, work: Callable[[], T], done: Callable[[T], None], refused: Callable[[FloorError], None]
    ) -> None:
        """Calls `work`, then `done` with its result or `refused` with the FloorError that it raised."""
        ...

    def tell(self, told: Callable[[], None]) -> None:
        """Called from inside the work: runs `told` on the screen's thread, to show progress."""
        ...


class AtOnce:
    """Runs the work where it is asked for: for commands without a screen, and for tests of the flow."""

    def run(
        self, work: Callable[[], T], done: Callable[[T], None], refused: Callable[[FloorError], None]
    ) -> None:
        try:
            with told_in_a_line():
                result = work()
        except FloorError as error:
            refused(error)
            return
        done(result)

    def tell(self, told: Callable[[], None]) -> None:
        told()
