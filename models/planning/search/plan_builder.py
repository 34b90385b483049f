"""The hits of a whole plan, written side by side.

What is done on the other sides changes nothing of a side's hits but their numbers and what they are set to.
"""

from collections.abc import Sequence
from dataclasses import replace

from models.plan.plan import Hit
from models.planning.assembly.hit_builder import SetStroke, written_hits
from models.planning.assembly.merge_sides import Setting, interleaved
from models.planning.problem.resolved_hit import Stroke, strokes_of
from models.planning.problem.side import SideWork
from models.planning.problem.state import Closing
from models.planning.search.incumbent import SideResult

Closings = tuple[Closing, ...]


class PlanWriter:
    """Remembers the sides it has written: of the next plan it writes those alone that are new in it.

    It is for one job, whose sides it tells apart by their names.
    """

    def __init__(self) -> None:
        self._strokes: dict[tuple[str, Closings], list[Stroke]] = {}
        self._hits: dict[tuple[str, Closings, tuple[Setting, ...]], tuple[Hit, ...]] = {}

    def hits(self, results: Sequence[SideResult]) -> tuple[Hit, ...] | None:
        """The hits in the order in which to press; None while one of the sides has no sequence."""
        sides = [self._strokes_of(side.work, side.closings) for side in results if side.closings is not None]
        if len(sides) < len(results):
            return None
        ordered = interleaved(sides)
        names = {stroke.work.side.name for stroke, _ in ordered}
        following = {name: iter(self._hits_on(name, ordered)) for name in names}
        hits = (next(following[stroke.work.side.name]) for stroke, _ in ordered)
        return tuple(replace(hit, n=n) for n, hit in enumerate(hits, start=1))

    def _strokes_of(self, work: SideWork, closings: Closings) -> list[Stroke]:
        known = (work.side.name, closings)
        if known not in self._strokes:
            self._strokes[known] = strokes_of(work, closings)
        return self._strokes[known]

    def _hits_on(self, side: str, ordered: Sequence[SetStroke]) -> tuple[Hit, ...]:
        own = [(stroke, setting) for stroke, setting in ordered if stroke.work.side.name == side]
        known = (side, tuple(stroke.closing for stroke, _ in own), tuple(setting for _, setting in own))
        if known not in self._hits:
            self._hits[known] = written_hits(own)
        return self._hits[known]
