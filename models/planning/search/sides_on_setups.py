"""What each side comes to along a row of settings, in as many hits as it has: solved once, and remembered."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from models.planning.cpsat.feasibility import closings_in
from models.planning.cpsat.least_dwell import Lean, leanest
from models.planning.cpsat.solver import Halt
from models.planning.problem.patterns import Way, ways_to_hit
from models.planning.problem.state import Closing
from models.planning.search.incumbent import SideResult
from models.planning.search.setup_sequence import Course, Step

EFFORT = 1.0
"""For each side and row of settings, in the solver's deterministic seconds."""


@dataclass(frozen=True, slots=True)
class Along:
    """A side's sequence along a row of settings, if one is known; `is_impossible` where there is none."""

    closings: tuple[Closing, ...] | None
    is_impossible: bool


IMPOSSIBLE = Along(None, is_impossible=True)
UNKNOWN = Along(None, is_impossible=False)


class SidesAlong:
    """Sides go by their numbers. Once `effort` is spent, what is not known by then stays unknown."""

    def __init__(self, results: Sequence[SideResult], effort: float, halt: Halt) -> None:
        self.results, self.effort_left, self.halt = results, effort, halt
        self._ways: dict[tuple[int, Step], tuple[Way, ...]] = {}
        self._along: dict[tuple[int, Course], Along] = {}
        self._lean: dict[tuple[int, Course], Lean] = {}

    @property
    def is_sure(self) -> bool:
        """Whether of every row that was asked for it is known if the side can go along it."""
        return not any(along == UNKNOWN for along in self._along.values())

    def fit(self, course: Course) -> bool:
        """Whether all sides are known to go along the course; nothing is solved where one plainly can't."""
        sides = range(len(self.results))
        counts = all(self._counts_for_all(side, course) for side in sides)
        return counts and all(self.along(side, course).closings for side in sides)

    def along(self, side: int, course: Course) -> Along:
        key = (side, self._own(side, course))
        if key not in self._along:
            self._along[key] = self._solved(*key)
        return self._along[key]

    def lean(self, side: int, course: Course) -> Lean:
        """Of the least dwell and the fewest re-heats along the course, which the side can go along."""
        key = (side, self._own(side, course))
        if key not in self._lean:
            closings = self.along(side, course).closings or ()
            work = self.results[side].work
            phases = [ways_to_hit(work, step.press, step.temperature_c, work.better_late) for step in key[1]]
            lean = leanest(work, phases, closings, self._effort, self.halt)
            self.effort_left -= lean.effort
            self._lean[key] = lean
        return self._lean[key]

    def _own(self, side: int, course: Course) -> Course:
        """The steps in which anything can be done on the side; the same step twice in a row is one."""
        useful = (step for step in course if self._ways_at(side, step))
        return tuple(step for step, _ in groupby(useful))

    def _solved(self, side: int, course: Course) -> Along:
        if not self._counts_for_all(side, course):
            return IMPOSSIBLE
        if self.effort_left <= 0 or self.halt.is_asked:
            return UNKNOWN
        result = self.results[side]
        hits = len(result.closings or ())
        answer = closings_in(result.work, self._phases(side, course), hits, self._effort, self.halt)
        self.effort_left -= answer.effort
        return Along(answer.closings, answer.is_impossible)

    @property
    def _effort(self) -> float:
        return max(0.0, min(EFFORT, self.effort_left))

    def _counts_for_all(self, side: int, course: Course) -> bool:
        counted = 0
        for step in course:
            for way in self._ways_at(side, step):
                counted |= way.counted
        return counted == self.results[side].work.every_part

    def _phases(self, side: int, course: Course) -> list[tuple[Way, ...]]:
        return [self._ways_at(side, step) for step in course]

    def _ways_at(self, side: int, step: Step) -> tuple[Way, ...]:
        if (side, step) not in self._ways:
            work = self.results[side].work
            self._ways[side, step] = ways_to_hit(work, step.press, step.temperature_c)
        return self._ways[side, step]
