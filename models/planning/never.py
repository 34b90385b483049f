"""Whether a few pieces can be worked in no number of hits at all, because of the seconds that they bear.

Hits are taken out of their order in time. Of the order it keeps what no order can change: what lies below a
piece lies there whenever the piece is pressed. So a proof holds for every sequence, and for every job that
has these pieces among others.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from ortools.sat.python import cp_model

from models.planning.bits import bits_of, members
from models.planning.candidates import Way, ways_to_hit
from models.planning.exact import solver_for
from models.planning.side_work import SideWork, side_of

MOST_TASKS = 14
"""With more presses than these to share hits in every way, nothing is tried."""

EFFORT = 2.0


@dataclass(frozen=True, slots=True)
class Overheated:
    """Of pieces that can never be worked together, one that would get more seconds than it bears."""

    piece: int
    least_s: int


@dataclass(frozen=True, slots=True)
class Task:
    """A part's press, until it is down, or its second press."""

    part: int
    is_second: bool


@dataclass(frozen=True, slots=True)
class Sharing:
    """Hits of one way that serve the same tasks. `heated` are the parts surely there and touched."""

    tasks: tuple[Task, ...]
    heated: int
    least_s: int
    most_s: int


def never_together(work: SideWork) -> SideWork | None:
    """The side with as few pieces alone as prove that it can't be worked; None where none are found."""
    for base in range(len(work.pieces)):
        above = [p for p, before in enumerate(work.order.ever_before) if before >> base & 1]
        group = side_of(work, [base, *above])
        if above and can_never_be_worked(group):
            return _as_few(group)
    return None


def overheated(work: SideWork) -> Overheated | None:
    """The first piece that, bearing all it gets, would free such pieces."""
    for piece in range(len(work.pieces)):
        model, solver = _SecondsModel(work, spared=piece), solver_for(EFFORT)
        if solver.solve(model.model) == cp_model.OPTIMAL:
            return Overheated(piece, round(solver.objective_value))
    return None


def can_never_be_worked(work: SideWork) -> bool:
    """True only where it is proved; False where it is not known."""
    if len(_tasks(work)) > MOST_TASKS:
        return False
    model = _SecondsModel(work)
    return solver_for(EFFORT).solve(model.model) == cp_model.INFEASIBLE


def _as_few(work: SideWork) -> SideWork:
    """Without any one of the pieces that are left, the proof fails."""
    for piece in work.pieces:
        fewer = side_of(work, [k for k, other in enumerate(work.pieces) if other != piece])
        if fewer.pieces and can_never_be_worked(fewer):
            work = fewer
    return work


class _SecondsModel:
    """So many hits of each sharing, of so many seconds in all: each task is served, each part bears it.

    With a piece `spared` it may get any number of seconds, and gets as few as can be.
    """

    def __init__(self, work: SideWork, spared: int | None = None) -> None:
        self.work, self.model = work, cp_model.CpModel()
        self.sharings = [sharing for way in ways_to_hit(work) for sharing in _sharings(work, way)]
        most_s = sum(part.material.total_s for part in work.parts)
        self.hits = [self.model.new_int_var(0, most_s, "") for _ in self.sharings]
        self.seconds = [self.model.new_int_var(0, most_s, "") for _ in self.sharings]
        for sharing, n, s in zip(self.sharings, self.hits, self.seconds, strict=True):
            self.model.add(s >= sharing.least_s * n)
            self.model.add(s <= sharing.most_s * n)
        for task in _tasks(work):
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


def _tasks(work: SideWork) -> list[Task]:
    presses = [Task(k, is_second=False) for k in range(len(work.parts))]
    seconds = [Task(k, is_second=True) for k, part in enumerate(work.parts) if part.material.finish_s]
    return [*presses, *seconds]


def _sharings(work: SideWork, way: Way) -> Iterator[Sharing]:
    """Every set of tasks that one hit of this way may serve."""
    for tasks in _shared(work, [task for task in _tasks(work) if way.counted >> task.part & 1]):
        lying = work.parts_of(_surely_there(work, tasks))
        heated = lying & way.touched
        least_s = max(work.job.press.shortest_s, *(_at_least_s(work, task) for task in tasks))
        most_s = min(work.parts[k].material.longest_s for k in members(heated))
        if not lying & way.scorched and least_s <= most_s:
            yield Sharing(tasks, heated, least_s, most_s)


def _shared(work: SideWork, tasks: Sequence[Task]) -> list[tuple[Task, ...]]:
    shared: list[tuple[Task, ...]] = [()]
    for task in tasks:
        shared += [(*others, task) for others in shared if all(_go_together(work, task, o) for o in others)]
    return shared[1:]


def _go_together(work: SideWork, one: Task, other: Task) -> bool:
    if one.is_second and other.is_second:
        return True
    if one.is_second or other.is_second:
        second, press = (one, other) if one.is_second else (other, one)
        piece, pressed = work.parts[second.part].piece, work.parts[press.part].piece
        return piece != pressed and not work.order.ever_before[piece] >> pressed & 1
    piece, pressed = work.parts[one.part].piece, work.parts[other.part].piece
    before = work.order.ever_before[piece] >> pressed | work.order.ever_before[pressed] >> piece
    return not (before | work.order.apart[piece] >> pressed) & 1


def _surely_there(work: SideWork, tasks: Sequence[Task]) -> int:
    """The pieces that lie there at a hit that serves the tasks."""
    pieces = bits_of(work.parts[task.part].piece for task in tasks)
    for piece in members(pieces):
        pieces |= work.order.ever_before[piece]
    return pieces


def _at_least_s(work: SideWork, task: Task) -> int:
    return work.parts[task.part].material.finish_s if task.is_second else 0
