"""The fewest hits of one side: the search between a quick sequence and a lower bound."""

from collections.abc import Iterator
from dataclasses import replace

from models.planning.covering import fewest_covering
from models.planning.exact import closings_in
from models.planning.halting import Halt
from models.planning.side_result import SideResult

COVERING_EFFORT = 1.0
LONGEST_ROW = 40
"""Hits on one side beyond which none are looked for where the quick sequence has come to a dead end."""


def improved(result: SideResult, effort: float, halt: Halt) -> Iterator[SideResult]:
    """Better and better results, until the fewest hits are proved or `effort` deterministic seconds are up.

    First the bound rises hit by hit, as long as it proves too low. Where that takes too much, the number of
    hits falls from above.
    """
    covering = fewest_covering(result.work, result.ways, COVERING_EFFORT, halt)
    best = replace(result, bound=max(result.bound, covering))
    yield best
    for search in (_from_below, _from_above):
        for better in search(best, effort / 2, halt):
            best = better
            yield best


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
