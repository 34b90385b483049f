"""The fewest walks from press to press that so many hits take, all sides together.

The order in which presses are used is a course: (0, 1, 0) takes two walks. A plan goes along a course if each
side has a sequence of as many hits that uses the presses in this order; it may leave some of them out.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise, product

from models.planning.candidates import ways_to_hit
from models.planning.closing import Closing
from models.planning.exact import closings_in
from models.planning.halting import Halt
from models.planning.lean_model import leanest
from models.planning.proof import fewest_presses
from models.planning.side_result import SideResult
from models.planning.side_search import is_crowded

EFFORT = 1.0
"""For each side and course, in the solver's deterministic seconds."""
MOST_TRIED = 3
"""Numbers of walks: with each of them there are more courses."""

Course = tuple[int, ...]  # presses, by their numbers
Results = tuple[SideResult, ...]


@dataclass(frozen=True, slots=True)
class Walked:
    """What the sides come to along each course of the fewest walks found; it takes `at_least` so many."""

    found: tuple[Results, ...]
    at_least: int


@dataclass(frozen=True, slots=True)
class _Along:
    """What the sides come to along one course, if that is known; `is_impossible` where one can't go along."""

    results: Results | None
    is_impossible: bool = False


def fewer_walks(results: Sequence[SideResult], walks: int, halt: Halt) -> Walked:
    """The sides in as many hits as they have, with the fewest walks that are found below `walks`."""
    at_least = fewest_presses(results) - 1
    presses = len(results[0].work.job.presses)
    for count in range(at_least, min(walks, at_least + MOST_TRIED)):
        tried = [_along(results, course, halt) for course in courses(presses, count)]
        found = tuple(along.results for along in tried if along.results is not None)
        if found:
            return Walked(found, at_least)
        if at_least == count and all(along.is_impossible for along in tried):
            at_least += 1
    return Walked((), at_least)


def courses(presses: int, walks: int) -> Iterator[Course]:
    for course in product(range(presses), repeat=walks + 1):
        if all(before != after for before, after in pairwise(course)):
            yield course


def _along(results: Sequence[SideResult], course: Course, halt: Halt) -> _Along:
    walked: list[SideResult] = []
    for result in results:
        side = _side_along(result, course, halt)
        if side.results is None:
            return side
        walked.extend(side.results)
    return _Along(tuple(walked))


def _side_along(result: SideResult, course: Course, halt: Halt) -> _Along:
    """Of the least dwell along the course that is found; proved so where no course has less."""
    if is_crowded(result):
        return _Along(None)
    phases = [ways_to_hit(result.work, press) for press in course]
    answer = closings_in(result.work, phases, len(result.closings or ()), EFFORT, halt)
    if answer.closings is None:
        return _Along(None, answer.is_impossible)
    lean = leanest(result.work, phases, answer.closings, EFFORT, halt)
    is_least = result.is_least_dwell and _dwell_s(lean.closings) == _dwell_s(result.closings or ())
    walked = replace(result, closings=lean.closings, is_least_dwell=is_least, fewest_reheats=None)
    return _Along((walked,))


def _dwell_s(closings: Sequence[Closing]) -> int:
    return sum(closing.dwell_s for closing in closings)
