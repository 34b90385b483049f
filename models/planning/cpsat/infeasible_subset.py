"""Pieces that no number of hits can work: together they take more seconds or heat than they bear."""

from dataclasses import dataclass

from ortools.sat.python import cp_model

from models.planning.cpsat.dwell_bound import SecondsModel, sharings_of
from models.planning.cpsat.feasibility import solver_for
from models.planning.cpsat.solver import Halt
from models.planning.problem.patterns import ways_to_hit
from models.planning.problem.side import SideWork, side_of

EFFORT = 2.0
MOST_TOGETHER = 16
"""More pieces than these over one are not tried: on a crowded side that would keep a person waiting."""


@dataclass(frozen=True, slots=True)
class Overheated:
    """Of pieces that can never be worked together, one that would get more seconds than it bears."""

    piece: int
    least_s: int


def never_together(work: SideWork, halt: Halt) -> SideWork | None:
    """The side with as few pieces alone as prove that it can't be worked; None where none are found."""
    for base in range(len(work.pieces)):
        above = [p for p, before in enumerate(work.order.ever_before) if before >> base & 1]
        if 0 < len(above) < MOST_TOGETHER and not halt.is_asked:
            group = side_of(work, [base, *above])
            if can_never_be_worked(group, halt):
                return _as_few(group, halt)
    return None


def overheated(work: SideWork, halt: Halt) -> Overheated | None:
    """The first piece that, bearing all it gets, would free such pieces."""
    sharings = sharings_of(work, ways_to_hit(work)) or []
    for piece in range(0 if halt.is_asked else len(work.pieces)):
        model, solver = SecondsModel(work, sharings, spared=piece), solver_for(EFFORT)
        if halt.solve(solver, model.model) == cp_model.OPTIMAL:
            return Overheated(piece, round(solver.objective_value))
    return None


def can_never_be_worked(work: SideWork, halt: Halt) -> bool:
    """True only where it is proved; False where it is not known."""
    sharings = sharings_of(work, ways_to_hit(work))
    if sharings is None:
        return False
    return halt.solve(solver_for(EFFORT), SecondsModel(work, sharings).model) == cp_model.INFEASIBLE


def _as_few(work: SideWork, halt: Halt) -> SideWork:
    """Without any one of the pieces that are left, the proof fails."""
    for piece in work.pieces:
        fewer = side_of(work, [k for k, other in enumerate(work.pieces) if other != piece])
        if fewer.pieces and can_never_be_worked(fewer, halt):
            work = fewer
    return work
