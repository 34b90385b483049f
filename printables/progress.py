"""How far a long print job is."""

from collections.abc import Callable

Progress = Callable[[int, int], None]  # steps done, steps in all


class Steps:
    """Counts the steps of one job and tells each to whoever asked for it."""

    def __init__(self, total: int, told: Progress | None) -> None:
        self._total = total
        self._told = told
        self._done = 0

    def one_done(self) -> None:
        self._done += 1
        if self._told is not None:
            self._told(self._done, self._total)
