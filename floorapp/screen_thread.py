"""Long work in a thread of its own, its result handed back on the screen's thread by Kivy's clock."""

import threading
from collections.abc import Callable

from floorapp.background import T, answer_of
from models.errors import FloorError


class ScreenThread:
    """A Background for the app."""

    def run(
        self, work: Callable[[], T], done: Callable[[T], None], refused: Callable[[FloorError], None]
    ) -> None:
        def job() -> None:
            self.tell(answer_of(work, done, refused))

        threading.Thread(target=job, name="long work", daemon=True).start()

    def tell(self, told: Callable[[], None]) -> None:
        from kivy.clock import Clock

        Clock.schedule_once(lambda _: told())
