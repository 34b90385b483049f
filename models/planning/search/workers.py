"""All sides searched at once, two at a time, while the caller hears of each step and may stop it."""

from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import replace
from queue import Empty, SimpleQueue

from models.planning.cpsat.solver import LOOK_EVERY_S, Halt
from models.planning.search.bound_core import forcing_pieces
from models.planning.search.incumbent import SideResult
from models.planning.search.solve_side import improved, is_crowded, leaner

WORKERS = 2

Step = tuple[int, SideResult]  # the side's number, and what is known of it now


def steps_of(results: Sequence[SideResult], effort: float, stop: Callable[[], bool] | None) -> Iterator[Step]:
    """Every step of the search, as it is made. What each side comes to does not depend on the others.

    All sides are searched for the fewest hits before any is searched for less dwell. Ends early once `stop`
    says so; it is asked in the caller's thread.
    """
    halt, steps = Halt(), SimpleQueue[Step]()
    with ThreadPoolExecutor(WORKERS) as threads:
        fewest = [threads.submit(_fewest, k, result, effort, halt, steps) for k, result in enumerate(results)]
        leanest = [
            threads.submit(_leanest, k, search, effort, halt, steps) for k, search in enumerate(fewest)
        ]
        while not steps.empty() or not all(search.done() for search in leanest):
            if stop is not None and stop():
                halt.ask()
            yield from _waited_for(steps)
    _raise_failures(leanest)


def _fewest(k: int, result: SideResult, effort: float, halt: Halt, steps: "SimpleQueue[Step]") -> SideResult:
    for better in improved(result, effort, halt):
        steps.put((k, better))
        result = better
    return result


def _leanest(
    k: int, search: Future[SideResult], effort: float, halt: Halt, steps: "SimpleQueue[Step]"
) -> None:
    """Waits for the side's own search, which was begun before: the threads take their work in turn."""
    lean = leaner(search.result(), effort, halt)
    steps.put((k, lean))
    if not is_crowded(lean):
        steps.put((k, replace(lean, forcing=forcing_pieces(lean, halt))))


def _waited_for(steps: "SimpleQueue[Step]") -> Iterator[Step]:
    try:
        yield steps.get(timeout=LOOK_EVERY_S)
    except Empty:
        return


def _raise_failures(searches: Sequence[Future[None]]) -> None:
    for search in searches:
        search.result()
