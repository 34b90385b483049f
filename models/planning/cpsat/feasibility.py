"""Whether one side can be worked in so many hits, asked of CP-SAT."""

from dataclasses import dataclass

from ortools.sat.python import cp_model

from models.planning.cpsat.slot_model import Phases, SlotModel
from models.planning.cpsat.solver import Halt
from models.planning.problem.side import SideWork
from models.planning.problem.state import Closing


@dataclass(frozen=True, slots=True)
class Answer:
    """The closings, where there are some; `is_impossible` where it is proved that there are none."""

    closings: tuple[Closing, ...] | None
    is_impossible: bool
    effort: float  # spent, in CP-SAT's deterministic seconds


def closings_in(work: SideWork, phases: Phases, hits: int, effort: float, halt: Halt) -> Answer:
    """Work the side in exactly `hits` closings, trying for no longer than `effort` deterministic seconds."""
    model = SlotModel(work, phases, hits)
    solver = solver_for(effort)
    solver.parameters.linearization_level = 0  # a linear relaxation costs more than it shows here
    status = halt.solve(solver, model.model)
    if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return Answer(model.closings(solver), False, solver.response_proto.deterministic_time)
    spent = effort if status == cp_model.UNKNOWN else solver.response_proto.deterministic_time
    return Answer(None, status == cp_model.INFEASIBLE, spent)


def solver_for(effort: float) -> cp_model.CpSolver:
    """One worker and a fixed seed give the same answer every time; its time is counted in work done."""
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.cp_model_presolve = False  # on models so small it takes longer than all the rest
    solver.parameters.random_seed = 1
    solver.parameters.max_deterministic_time = effort
    return solver
