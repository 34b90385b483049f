"""The fewest walks, changes of temperature and changes of side that so many hits take, all sides together.

One cost after the other, in the order in which they count: the courses of settings that cost so much are
tried on every side, and where none of them can be gone along, one more is the least.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import chain, combinations, islice, product
from math import inf
from typing import TypeVar

from models.planning.cpsat.least_dwell import Lean
from models.planning.cpsat.solver import Halt
from models.planning.problem.bitset import members
from models.planning.search.incumbent import SideResult
from models.planning.search.lower_bounds import Costs
from models.planning.search.setup_sequence import Course, Step, courses, settings_of, side_changes
from models.planning.search.sides_on_setups import SidesAlong
from models.planning.search.solve_side import is_crowded

EFFORT = 8.0
"""For all sides and courses, in the solver's deterministic seconds."""
MOST_COURSES = 200
MOST_VISITED = 2_000
"""Ways in which the sides take up the steps of the courses, or leave them out."""
MOST_TRIED = 3
"""Numbers of walks, or of changes: with each of them there are more courses."""
MOST_FOUND = 6

Results = tuple[SideResult, ...]
Item = TypeVar("Item")


@dataclass(frozen=True, slots=True)
class Coursed:
    """What the sides come to along the best courses found; no plan costs less than `least`."""

    found: tuple[Results, ...]
    least: Costs


@dataclass(frozen=True, slots=True)
class _Visited:
    """A course with, for each side, the steps in which it is worked."""

    course: Course
    visits: tuple[tuple[int, ...], ...]

    def row(self, side: int) -> Course:
        return tuple(self.course[step] for step in self.visits[side])

    def opens_more(self, other: "_Visited") -> bool:
        """Whether it leaves every side all that the other leaves it, and more."""
        pairs = zip(self.visits, other.visits, strict=True)
        return self.course == other.course and self != other and all(set(a) >= set(b) for a, b in pairs)


def along_courses(results: Sequence[SideResult], costs: Costs, least: Costs, halt: Halt) -> Coursed:
    """The sides in as many hits as they have, for less than `costs` where that is found.

    No plan costs less than `least`, as is known already.
    """
    settings = settings_of(results[0].work.job)
    if costs == least or len(settings) == 1 or any(map(is_crowded, results)):
        return Coursed((), least)
    return _CourseSearch(results, settings, halt).best(costs, least)


class _CourseSearch:
    def __init__(self, results: Sequence[SideResult], settings: Sequence[Step], halt: Halt) -> None:
        self.results, self.settings = results, settings
        self.any_heat = [Step(press) for press in dict.fromkeys(step.press for step in settings)]
        self.every_heat = settings_of(results[0].work.job, spared=self._better_late())
        self.sides = SidesAlong(results, EFFORT, halt)
        self._is_cut = False

    def best(self, costs: Costs, least: Costs) -> Coursed:
        walks, least_walks = self._fewest_walks(costs, least)
        changes, least_changes = self._fewest_changes(walks, costs, least)
        visited = self._fewest_turns(self._courses(walks, changes))
        if not visited:
            return Coursed((), _raised(least, (costs.hits, walks), (least_walks, least_changes)))
        turns = side_changes(visited[0].visits)
        visited = self._at_every_heat(visited, walks, changes)
        leanest = sorted(visited, key=self._cost)
        reached = (costs.hits, walks, changes, turns)
        bounds = (least_walks, least_changes, *self._at_least(turns, visited, least))
        found = tuple(map(self._results_along, leanest[:MOST_FOUND]))
        return Coursed(found, _raised(least, reached, bounds))

    @property
    def _is_complete(self) -> bool:
        """Whether no course that was asked for has been left untried."""
        return self.sides.is_sure and not self._is_cut

    def _fewest_walks(self, costs: Costs, least: Costs) -> tuple[int, int]:
        """Their number, and the least there can be."""
        numbers = range(least.walks, costs.walks)
        walks, at_least = self._fewest(numbers, lambda n: self._fitting(self.any_heat, n, 0))
        return costs.walks if walks is None else walks, at_least

    def _fewest_changes(self, walks: int, costs: Costs, least: Costs) -> tuple[int | None, int]:
        """With so many walks: their number, where it was found, and the least there can be."""
        fewest = least.temperature_changes
        most = costs.temperature_changes if walks == costs.walks else fewest + MOST_TRIED
        return self._fewest(range(fewest, most + 1), lambda n: self._fitting(self.settings, walks, n))

    def _fewest(self, numbers: range, fitting: Callable[[int], list[Course]]) -> tuple[int | None, int]:
        """The first of the numbers for which a course fits, and the least there can be."""
        at_least = numbers.start
        for number in numbers[:MOST_TRIED]:
            if fitting(number):
                return number, at_least
            if self._is_complete:
                at_least = number + 1
        return None, at_least

    def _courses(self, walks: int, changes: int | None) -> list[Course]:
        if changes is None:
            return self._fitting(self.any_heat, walks, 0)
        return self._fitting(self.settings, walks, changes)

    def _fitting(self, steps: Sequence[Step], walks: int, changes: int) -> list[Course]:
        few = self._few(courses(steps, walks, changes), MOST_COURSES)
        return [course for course in few if self.sides.fit(course)]

    def _fewest_turns(self, fitting: Iterable[Course]) -> list[_Visited]:
        """The ways to take up the steps of these courses that change sides the least often."""
        every = self._few(chain.from_iterable(map(self._visited, fitting)), MOST_VISITED)
        turns = {visited: side_changes(visited.visits) for visited in every}
        best = [visited for visited in every if turns[visited] == min(turns.values())]
        return [visited for visited in best if not any(other.opens_more(visited) for other in best)]

    def _visited(self, course: Course) -> Iterator[_Visited]:
        steps = range(len(course))
        some = [chosen for n in steps for chosen in combinations(steps, n + 1)]
        of_each_side = [
            [chosen for chosen in some if self.sides.along(side, tuple(course[n] for n in chosen)).closings]
            for side in range(len(self.results))
        ]
        return (_Visited(course, visits) for visits in product(*of_each_side))

    def _few(self, items: Iterable[Item], most: int) -> list[Item]:
        some = list(islice(items, most + 1))
        self._is_cut = self._is_cut or len(some) > most
        return some[:most]

    def _leans(self, visited: _Visited) -> list[Lean]:
        return [self.sides.lean(side, visited.row(side)) for side in range(len(self.results))]

    def _at_every_heat(self, visited: list[_Visited], walks: int, changes: int | None) -> list[_Visited]:
        """Also at heats that some pieces do not take: where one waits longer for its second press, it may be
        heated again less. That comes last, with what effort is left.
        """
        if changes is None or self.every_heat == self.settings:
            return visited
        for known in visited:
            self._leans(known)
        return self._fewest_turns(self._fitting(self.every_heat, walks, changes))

    def _better_late(self) -> set[str]:
        """The materials of the pieces that a hit may better not count for."""
        works = [result.work for result in self.results]
        return {work.parts[k].material.key for work in works for k in members(work.better_late)}

    def _cost(self, visited: _Visited) -> tuple[int, float]:
        leans = self._leans(visited)
        reheats = [inf if lean.reheats is None else lean.reheats for lean in leans]
        return sum(lean.dwell_s for lean in leans), sum(reheats)

    def _results_along(self, visited: _Visited) -> Results:
        pairs = zip(self.results, self._leans(visited), strict=True)
        return tuple(replace(result, closings=lean.closings) for result, lean in pairs)

    def _at_least(self, turns: int, visited: Sequence[_Visited], least: Costs) -> tuple[int, int, int]:
        """The changes of side, the dwell and the re-heats; as they were known where not all was tried."""
        known = (least.dwell_s, least.reheats)
        if not self._is_complete:
            return (least.side_changes, *known)
        return (turns, *max(known, min(map(self._lean_at_least, visited))))

    def _lean_at_least(self, visited: _Visited) -> tuple[int, int]:
        leans = self._leans(visited)
        return sum(lean.least_dwell_s for lean in leans), sum(lean.least_reheats for lean in leans)


def _raised(known: Costs, reached: Sequence[int | None], bounds: Sequence[int]) -> Costs:
    """`known` with the bounds, from the walks on; one holds where all costs before it are the least."""
    raised = [known.hits]
    for cost, bound in zip(reached, bounds, strict=False):
        if cost != raised[-1]:
            break
        raised.append(bound)
    else:
        raised.extend(bounds[len(reached) :])
    return Costs(*raised, *known[len(raised) :])
