"""Long work in a thread of its own, its result handed back on the screen's thread by Kivy's clock."""

import threading
from collections.abc import Callable
from typing import TypeVar

from models.errors import FloorError

T = TypeVar("T")


class ScreenThread:
    """A Background for the app."""

    def run(
        self, work: Callable[[], T], done: Callable[[T], None], refused: Callable[[FloorError], None]
    ) -> None:
        def job() -> None:
            try:
                result = work()
            except FloorError as error:
                self.tell(lambda error=error: refused(error))  # type: ignore[misc]
            else:
                self.tell(lambda: done(result))

        threading.Thread(target=job, name="long work", daemon=True).start()

    def tell(self, told: Callable[[], None]) -> None:
        from kivy.clock import Clock

        Clock.schedule_once(lambda _: told())
