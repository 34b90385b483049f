"""What the sides of a job came to when they were searched, for sizes in which some of them are the same."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from models.geometry import Box
from models.job.job import Side, ZoneKind
from models.planning.search.incumbent import SideResult

Metal = tuple[str, tuple[Box, ...]]
Step = tuple[int, SideResult]


class KnownSides:
    """For one job whose pieces stay as they are, while metal lies elsewhere on some sides."""

    def __init__(self) -> None:
        self._steps: dict[Metal, tuple[SideResult, ...]] = {}

    def steps_of(
        self, results: Sequence[SideResult], effort: float, stop: Callable[[], bool] | None
    ) -> Iterator[Step]:
        """The steps of the search, each with the number of its side; no side is searched twice to its end.

        `effort` has to be the same each time.
        """
        from models.planning.search.workers import steps_of  # noqa: PLC0415 - loads the solver

        for side, result in enumerate(results):
            for step in self._steps.get(metal_of(result.work.side), ()):
                yield side, replace(step, work=result.work, ways=result.ways)
        new = [side for side, result in enumerate(results) if metal_of(result.work.side) not in self._steps]
        heard: list[list[SideResult]] = [[] for _ in new]
        for n, step in steps_of([results[side] for side in new], effort, stop):
            heard[n].append(step)
            yield new[n], step
        if stop is None or not stop():
            self._steps.update(
                (metal_of(results[k].work.side), tuple(steps)) for k, steps in zip(new, heard, strict=True)
            )


def metal_of(side: Side) -> Metal:
    """What tells the side from itself in another size, as far as a search is concerned."""
    return side.name, tuple(zone.box for zone in side.zones_of(ZoneKind.KEEP_OUT))
