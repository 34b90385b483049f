"""Looks for fonts of the computer off the screen's thread, and has what was drawn without them drawn anew."""

from collections.abc import Callable
from threading import Thread
from weakref import WeakMethod

from printables.system_fonts import SystemFonts


class FontSearch:
    """`on_screen` runs a call on the screen's thread."""

    def __init__(self, fonts: SystemFonts, on_screen: Callable[[Callable[[], None]], object]) -> None:
        self._fonts = fonts
        self._on_screen = on_screen
        self._sought: set[str] = set()
        self._waiting: list[WeakMethod[Callable[[], None]]] = []
        self._threads: list[Thread] = []

    def known(self, letters: frozenset[str], again: Callable[[], None] | None = None) -> tuple[str, ...]:
        """Return the fonts known to have these letters.

        Letters that were never sought are sought now; `again`, a method, is called when that is over.
        """
        known = self._fonts.known(letters)
        if known is not None:
            return known
        if again is not None:
            self._waiting.append(WeakMethod(again))
        if not letters <= self._sought:
            self._sought |= letters
            self._threads.append(Thread(target=self._seek, args=(letters,), name="fonts", daemon=True))
            self._threads[-1].start()
        return ()

    def wait(self) -> None:
        """Wait until nothing is sought any more."""
        while self._threads:
            self._threads.pop().join()

    def _seek(self, letters: frozenset[str]) -> None:
        self._fonts.search(letters)
        self._on_screen(self._tell)

    def _tell(self) -> None:
        waiting, self._waiting = self._waiting, []
        for method in waiting:
            again = method()
            if again is not None:
                again()
