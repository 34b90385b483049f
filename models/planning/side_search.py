"""The fewest hits of one side: the search between a quick sequence and a lower bound."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from models.planning.closing import Closing, bare
from models.planning.covering import fewest_covering
from models.planning.exact import closings_in
from models.planning.greedy import CROWDED, further_sequence, quick_sequence
from models.planning.halting import Halt
from models.planning.lean_model import leanest
from models.planning.side_result import SideResult

COVERING_EFFORT = 1.0
LEAN_EFFORT = 3.0
LARGEST_MODEL = 60_000
"""Parts times ways of hitting: a side with more keeps its quick sequence and its first bound."""
LONGEST_ROW = 40
"""Hits on one side beyond which none are looked for where the quick sequence has come to a dead end."""


def quickened(result: SideResult) -> SideResult:
    """The best of a few quick sequences, unless the side is so large that each takes seconds."""
    work = result.work
    if result.is_proved or (result.closings is not None and len(work.parts) >= CROWDED):
        return result
    return replace(result, closings=quick_sequence(work, result.ways, bare(work)))


def improved(result: SideResult, effort: float, halt: Halt) -> Iterator[SideResult]:
    """Better and better results, until the fewest hits are proved or `effort` deterministic seconds are up.

    First the bound rises hit by hit, as long as it proves too low. Where that takes too much, the number of
    hits falls from above.
    """
    best = result
    if not result.is_proved and not is_crowded(result):
        for best in _searched(result, effort, halt):
            yield best
    if best.closings is None and not halt.is_asked:
        yield replace(best, closings=further_sequence(best.work, best.ways))


def _searched(result: SideResult, effort: float, halt: Halt) -> Iterator[SideResult]:
    covering = fewest_covering(result.work, result.ways, COVERING_EFFORT, halt)
    best = replace(result, bound=max(result.bound, covering))
    yield best
    for search in (_from_below, _from_above):
        for better in search(best, effort / 2, halt):
            best = better
            yield best


def leaner(result: SideResult, halt: Halt) -> SideResult:
    """As many hits, with less dwell where that is found, and then fewer re-heats.

    Sequences of equal dwell stay as they are: which seconds come first is left to the trade's habit, that all
    that share a hit are pressed together before the rest of one of them.
    """
    if result.closings is None or is_crowded(result):
        return result
    lean = leanest(result.work, [result.ways], result.closings, LEAN_EFFORT, halt)
    if _dwell_s(lean.closings) == _dwell_s(result.closings):
        return replace(result, is_least_dwell=lean.is_least_dwell)
    return replace(
        result,
        closings=lean.closings,
        is_least_dwell=lean.is_least_dwell,
        fewest_reheats=lean.fewest_reheats,
    )


def is_crowded(result: SideResult) -> bool:
    """Whether building the solver's models alone would take longer than a person waits."""
    return len(result.work.parts) * len(result.ways) > LARGEST_MODEL


def _dwell_s(closings: Sequence[Closing]) -> int:
    return sum(closing.dwell_s for closing in closings)


def _from_below(result: SideResult, effort: float, halt: Halt) -> Iterator[SideResult]:
    while not result.is_proved and result.bound <= LONGEST_ROW and effort > 0:
        answer = closings_in(result.work, [result.ways], result.bound, effort, halt)
        effort -= answer.effort
        if answer.closings is not None:
            result = replace(result, closings=answer.closings)
        elif answer.is_impossible:
            result = replace(result, bound=result.bound + 1)
        yield result


def _from_above(result: SideResult, effort: float, halt: Halt) -> Iterator[SideResult]:
    """One hit fewer each time; where there is no sequence yet, a few hits more than the bound."""
    hits = result.bound + 1 if result.closings is None else len(result.closings) - 1
    while not result.is_proved and result.bound < hits <= LONGEST_ROW and effort > 0:
        answer = closings_in(result.work, [result.ways], hits, effort / 2, halt)
        effort -= answer.effort
        if answer.closings is not None:
            result = replace(result, closings=answer.closings)
            hits -= 1
            yield result
        elif result.closings is None:
            hits += 2
        else:
            return
