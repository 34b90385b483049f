"""A few pieces of a side that by themselves take as many hits as the whole of it."""

from models.planning.cpsat.cover_bound import fewest_covering
from models.planning.cpsat.dwell_bound import fewest_by_seconds
from models.planning.cpsat.feasibility import closings_in
from models.planning.cpsat.solver import Halt
from models.planning.problem.patterns import ways_to_hit
from models.planning.problem.side import SideWork, side_of
from models.planning.problem.simple_bounds import fewest_hits
from models.planning.search.incumbent import SideResult

EFFORT = 0.2


def forcing_pieces(result: SideResult, halt: Halt) -> tuple[int, ...]:
    """As few pieces of the side as were found that by themselves take as many hits as its bound."""
    kept = list(range(len(result.work.pieces)))
    if _bound(result.work, result.bound, halt) < result.bound:
        return ()
    for piece in range(len(result.work.pieces)):
        if halt.is_asked:
            return ()
        fewer = [other for other in kept if other != piece]
        if fewer and _bound(side_of(result.work, fewer), result.bound, halt) >= result.bound:
            kept = fewer
    return tuple(kept)


def _bound(work: SideWork, wanted: int, halt: Halt) -> int:
    """A proved bound; the costlier ways to prove one are tried while it is below `wanted`."""
    ways = ways_to_hit(work)
    bound = fewest_hits(work, ways)
    if bound < wanted:
        bound = max(bound, fewest_covering(work, ways, EFFORT, halt))
    if bound == wanted - 1:
        answer = closings_in(work, [ways], bound, EFFORT, halt)
        if answer.is_impossible or answer.closings is not None:
            return wanted if answer.is_impossible else bound
    return bound if bound >= wanted else max(bound, fewest_by_seconds(work, ways, EFFORT, halt))
