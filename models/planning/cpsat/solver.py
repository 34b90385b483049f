"""Stopping solvers at work from another thread."""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor, wait
from threading import Lock
from typing import TypeVar

from ortools.sat.python import cp_model

LOOK_EVERY_S = 0.05

Found = TypeVar("Found")


class Halt:
    """Solves for those who share it, until someone asks it to stop."""

    def __init__(self) -> None:
        self.is_asked = False
        self._at_work: set[cp_model.CpSolver] = set()
        self._lock = Lock()

    def ask(self) -> None:
        """End what is being solved now, and begin nothing more. May be asked again and again."""
        self.is_asked = True
        with self._lock:
            for solver in self._at_work:
                solver.stop_search()

    def solve(self, solver: cp_model.CpSolver, model: cp_model.CpModel) -> cp_model.CpSolverStatus:
        """The solver's status; UNKNOWN where it had to stop before it knew."""
        if self.is_asked:
            return cp_model.UNKNOWN
        with self._lock:
            self._at_work.add(solver)
        try:
            return solver.solve(model)
        finally:
            with self._lock:
                self._at_work.discard(solver)


def heeding(stop: Callable[[], bool] | None, search: Callable[[Halt], Found]) -> Found:
    """What `search` comes to; once `stop`, asked in the caller's thread, says so, its solvers are halted."""
    halt = Halt()

    def look() -> None:
        if stop is not None and stop():
            halt.ask()

    look()
    with ThreadPoolExecutor(1) as thread:
        found = thread.submit(search, halt)
        while not wait([found], LOOK_EVERY_S).done:
            look()
    return found.result()
