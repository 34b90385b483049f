"""The seconds and hits that a side takes, whatever the order: a model that proves bounds and impossibilities.

Hits are taken out of their order in time. Of the order it keeps what no order can change: which presses can
share a hit, and that what lies below a piece lies there whenever the piece is pressed. So what it proves
holds for every sequence, and for every job that has these pieces among others.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice
from math import ceil

from ortools.sat.python import cp_model

from models.planning.cpsat.feasibility import solver_for
from models.planning.cpsat.solver import Halt
from models.planning.problem.bitset import bits_of, members
from models.planning.problem.patterns import Way
from models.planning.problem.press_tasks import Task, go_together, tasks_of
from models.planning.problem.side import SideWork

MOST_SHARINGS = 700
"""With more sets of presses than these to share a hit, the model takes longer than it shows."""


@dataclass(frozen=True, slots=True)
class Sharing:
    """Hits of one way that serve the same tasks. `heated` are the parts surely there and touched."""

    tasks: tuple[Task, ...]
    heated: int
    least_s: int
    most_s: int


def sharings_of(work: SideWork, ways: Sequence[Way]) -> list[Sharing] | None:
    """Every set of presses that can share a hit, for each way of hitting; None where they are too many."""
    every = (sharing for way in ways for sharing in _sharings(work, way))
    sharings = list(islice(every, MOST_SHARINGS + 1))
    return sharings if len(sharings) <= MOST_SHARINGS else None


def fewest_by_seconds(work: SideWork, ways: Sequence[Way], effort: float, halt: Halt) -> int:
    """No sequence of the side has fewer hits; 0 where nothing is known."""
    sharings = sharings_of(work, ways)
    if sharings is None:
        return 0
    model, solver = SecondsModel(work, sharings), solver_for(effort)
    solver.parameters.cp_model_presolve = True
    solver.parameters.linearization_level = 2  # it is all sums: the linear relaxation shows most of the bound
    model.model.minimize(sum(model.hits))
    if halt.solve(solver, model.model) not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return 0
    return max(0, ceil(solver.best_objective_bound))


class SecondsModel:
    """So many hits of each sharing, of so many seconds in all: each task is served, each part bears it.

    With a piece `spared` it may get any number of seconds, and gets as few as can be.
    """

    def __init__(self, work: SideWork, sharings: Sequence[Sharing], spared: int | None = None) -> None:
        self.work, self.sharings, self.model = work, sharings, cp_model.CpModel()
        most_s = sum(part.material.total_s for part in work.parts)
        self.hits = [self.model.new_int_var(0, most_s, "") for _ in self.sharings]
        self.seconds = [self.model.new_int_var(0, most_s, "") for _ in self.sharings]
        for sharing, n, s in zip(self.sharings, self.hits, self.seconds, strict=True):
            self.model.add(s >= sharing.least_s * n)
            self.model.add(s <= sharing.most_s * n)
        for task in tasks_of(work):
            self._served(task)
        self._borne(spared, most_s * len(self.sharings))

    def _served(self, task: Task) -> None:
        serving = [k for k, sharing in enumerate(self.sharings) if task in sharing.tasks]
        if task.is_second:
            self.model.add(sum(self.hits[k] for k in serving) >= 1)
        else:
            least_s = self.work.parts[task.part].material.least_s
            self.model.add(sum(self.seconds[k] for k in serving) >= least_s)

    def _borne(self, spared: int | None, most_s: int) -> None:
        gets_s = self.model.new_int_var(0, most_s, "")
        for k, part in enumerate(self.work.parts):
            pairs = zip(self.sharings, self.seconds, strict=True)
            heating = sum(s for sharing, s in pairs if sharing.heated >> k & 1)
            self.model.add(heating <= (gets_s if part.piece == spared else part.material.total_s))
        if spared is not None:
            self.model.minimize(gets_s)


def _sharings(work: SideWork, way: Way) -> Iterator[Sharing]:
    """Every set of tasks that one hit of this way may serve."""
    for tasks in _shared(work, [task for task in tasks_of(work) if way.counted >> task.part & 1]):
        lying = work.parts_of(_surely_there(work, tasks))
        heated = lying & way.touched
        least_s = max(work.shortest_s, *(_at_least_s(work, task) for task in tasks))
        most_s = min(work.parts[k].material.longest_s for k in members(heated))
        if not lying & way.scorched and least_s <= most_s:
            yield Sharing(tasks, heated, least_s, most_s)


def _shared(
    work: SideWork, tasks: Sequence[Task], chosen: tuple[Task, ...] = ()
) -> Iterator[tuple[Task, ...]]:
    """`chosen` with one or more of the tasks that go with it and with each other, in every way."""
    for k, task in enumerate(tasks):
        if all(go_together(work, task, other) for other in chosen):
            yield (*chosen, task)
            yield from _shared(work, tasks[k + 1 :], (*chosen, task))


def _surely_there(work: SideWork, tasks: Sequence[Task]) -> int:
    """The pieces that lie there at a hit that serves the tasks."""
    pieces = bits_of(work.parts[task.part].piece for task in tasks)
    for piece in members(pieces):
        pieces |= work.order.ever_before[piece]
    return pieces


def _at_least_s(work: SideWork, task: Task) -> int:
    return work.parts[task.part].material.finish_s if task.is_second else 0
