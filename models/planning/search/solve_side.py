"""The fewest hits of one side: the search between a quick sequence and a lower bound."""

from collections.abc import Iterator
from dataclasses import replace

from models.planning.cpsat.cover_bound import fewest_covering
from models.planning.cpsat.dwell_bound import fewest_by_seconds
from models.planning.cpsat.feasibility import closings_in
from models.planning.cpsat.least_dwell import leanest
from models.planning.cpsat.solver import Halt
from models.planning.greedy.construct import further_sequence, quick_sequence
from models.planning.problem.patterns import Way, ways_to_hit
from models.planning.problem.side import SideWork
from models.planning.problem.state import bare
from models.planning.search.incumbent import SideResult
from models.planning.search.setup_sequence import settings_of

COVERING_EFFORT = 1.0
SECONDS_EFFORT = 0.4
FIRST_EFFORT = 0.2
"""Most sides are settled from below with less; for the others a nearer bound is sought first."""
LEAN_SHARE = 0.15
"""Of the effort for the fewest hits, spent on less dwell besides."""
LARGEST_MODEL = 60_000
"""Parts times ways of hitting: a side with more keeps its quick sequence and its first bound."""
LONGEST_ROW = 40
"""Hits on one side beyond which none are looked for where the quick sequence has come to a dead end."""


def improved(result: SideResult, effort: float, halt: Halt) -> Iterator[SideResult]:
    """Better and better results, until the fewest hits are proved or `effort` deterministic seconds are up.

    The bound rises hit by hit, as long as it proves too low: for a moment, and then from a nearer one. Where
    that takes too much, the number of hits falls from above.
    """
    best = result
    if not result.is_proved and not is_crowded(result):
        for better in _searched(result, effort, halt):
            best = better
            yield best
    if best.closings is None and not halt.is_asked:
        yield replace(best, closings=further_sequence(best.work, best.ways))


def _searched(result: SideResult, effort: float, halt: Halt) -> Iterator[SideResult]:
    best = result
    for search in (_covered, _first_from_below, _by_seconds, _from_below, _quickened, _from_above):
        for better in search(best, effort / 2, halt):
            best = better
            yield best
        if best.is_proved:
            return


def _covered(result: SideResult, _effort: float, halt: Halt) -> Iterator[SideResult]:
    yield _bounded(result, fewest_covering(result.work, result.ways, COVERING_EFFORT, halt))


def _first_from_below(result: SideResult, effort: float, halt: Halt) -> Iterator[SideResult]:
    yield from _from_below(result, min(effort, FIRST_EFFORT), halt)


def _by_seconds(result: SideResult, _effort: float, halt: Halt) -> Iterator[SideResult]:
    yield _bounded(result, fewest_by_seconds(result.work, result.ways, SECONDS_EFFORT, halt))


def _bounded(result: SideResult, bound: int) -> SideResult:
    return replace(result, bound=max(result.bound, bound))


def _quickened(result: SideResult, _effort: float, _halt: Halt) -> Iterator[SideResult]:
    """The best of a few quick sequences, where it is better."""
    quick = quick_sequence(result.work, result.ways, bare(result.work))
    if quick is not None and (result.closings is None or len(quick) < len(result.closings)):
        yield replace(result, closings=quick)


def leaner(result: SideResult, effort: float, halt: Halt) -> SideResult:
    """As many hits, with less dwell where that is found, and then fewer re-heats."""
    if result.closings is None or is_crowded(result):
        return result
    lean = leanest(
        result.work, [_ways_that_heat_little(result.work)], result.closings, LEAN_SHARE * effort, halt
    )
    return replace(
        result,
        closings=lean.closings,
        least_dwell_s=lean.least_dwell_s,
        least_reheats=lean.least_reheats,
    )


def _ways_that_heat_little(work: SideWork) -> tuple[Way, ...]:
    """Where one setting will do for the whole job, those at this one."""
    settings = settings_of(work.job)
    if len(settings) > 1:
        return ways_to_hit(work, spared=work.better_late)
    return ways_to_hit(work, settings[0].press, settings[0].temperature_c, work.better_late)


def is_crowded(result: SideResult) -> bool:
    """Whether building the solver's models alone would take longer than a person waits."""
    return len(result.work.parts) * len(result.ways) > LARGEST_MODEL


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
