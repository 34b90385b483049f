"""The one thread that speaks to the store, in the order in which the screen asks.

A healthy store answers within a few milliseconds. The screen waits that long, so that a tap and its next
phase are drawn in one frame. A store that takes longer answers later, and the screen goes on meanwhile.
"""

import queue
import threading
from collections import deque
from collections.abc import Callable

from floorapp.background import T, answer_of
from floorapp.screen_thread import ScreenThread
from models.errors import FloorError

GRACE_S = 0.012
"""The screen waits this long for an answer: less than one frame at 60 frames a second."""


class StoreThread(ScreenThread):
    """A Background whose works run one after the other; their results are handed back in that order."""

    def __init__(self, grace_s: float = GRACE_S) -> None:
        self._grace_s = grace_s
        self._works: queue.SimpleQueue[Callable[[], None]] = queue.SimpleQueue()
        self._answers: deque[Callable[[], None]] = deque()
        self._is_handing_back = False
        threading.Thread(target=self._work_on, name="store", daemon=True).start()

    def run(
        self, work: Callable[[], T], done: Callable[[T], None], refused: Callable[[FloorError], None]
    ) -> None:
        is_answered = threading.Event()

        def ask() -> None:
            self._answers.append(answer_of(work, done, refused))
            is_answered.set()
            self.tell(self._hand_back)

        self._works.put(ask)
        if is_answered.wait(self._grace_s):
            self._hand_back()

    def finish(self, within_s: float) -> bool:
        """Wait until all that was asked is done, and return whether it is."""
        is_empty = threading.Event()
        self._works.put(is_empty.set)
        return is_empty.wait(within_s)

    def _hand_back(self) -> None:
        """Give what is answered to who asked, the earliest first; called on the screen's thread.

        An answer may ask for more: what it asks for is handed back after it, not in the midst of it.
        """
        if self._is_handing_back:
            return
        self._is_handing_back = True
        try:
            while self._answers:
                self._answers.popleft()()
        finally:
            self._is_handing_back = False

    def _work_on(self) -> None:
        while True:
            self._works.get()()
