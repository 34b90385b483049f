"""Long work in a thread of its own, its result handed back on the screen's thread by Kivy's clock."""

import threading
from collections.abc import Callable
from functools import partial
from typing import NoReturn, TypeVar

from floorapp.os_errors import told_in_a_line
from models.errors import FloorError

T = TypeVar("T")


class ScreenThread:
    """A Background for the app."""

    def run(
        self, work: Callable[[], T], done: Callable[[T], None], refused: Callable[[FloorError], None]
    ) -> None:
        def job() -> None:
            try:
                with told_in_a_line():
                    result = work()
            except FloorError as error:
                self.tell(partial(refused, error))
            except BaseException as error:
                self.tell(partial(_raise, error))  # a fault of ours must be seen, not end with its thread
            else:
                self.tell(partial(done, result))

        threading.Thread(target=job, name="long work", daemon=True).start()

    def tell(self, told: Callable[[], None]) -> None:
        from kivy.clock import Clock

        Clock.schedule_once(lambda _: told())


def _raise(error: BaseException) -> NoReturn:
    raise error
