"""Long work off the screen's thread: planning a job, writing tags."""

from collections.abc import Callable
from functools import partial
from typing import NoReturn, Protocol, TypeVar

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
        answer_of(work, done, refused)()

    def tell(self, told: Callable[[], None]) -> None:
        told()


def answer_of(
    work: Callable[[], T], done: Callable[[T], None], refused: Callable[[FloorError], None]
) -> Callable[[], None]:
    """Do the work, and return what tells its result or its refusal.

    A fault of ours is raised again where it is told: it must be seen, not end with its thread.
    """
    try:
        with told_in_a_line():
            return partial(done, work())
    except FloorError as error:
        return partial(refused, error)
    except BaseException as error:
        return partial(_raise, error)


def _raise(error: BaseException) -> NoReturn:
    raise error
