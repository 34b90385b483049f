"""How few hits can give every part its seconds, whatever the order: a proved lower bound for one side.

Hits of one kind, a set of parts counted for so many seconds, are bought in numbers, like boxes that cover
points. Of the order it keeps what no order can change: pieces that may not be in work together are not
pressed by one hit, and what lies below a piece bounds the seconds and the heat of every hit that presses it.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from ortools.sat.python import cp_model

from models.planning.cpsat.feasibility import solver_for
from models.planning.cpsat.solver import Halt
from models.planning.problem.bitset import bits_of, members
from models.planning.problem.cliques import cliques
from models.planning.problem.patterns import Way
from models.planning.problem.side import SideWork


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of hit: the parts it can count for, all at once, and the most seconds it can last for them."""

    counted: int
    most_s: int

    def betters(self, other: "Kind") -> bool:
        return not other.counted & ~self.counted and other.most_s <= self.most_s


def fewest_covering(work: SideWork, ways: Sequence[Way], effort: float, halt: Halt) -> int:
    """No sequence of the side has fewer hits. `effort` bounds the search, in deterministic seconds."""
    solver = solver_for(effort)
    status = halt.solve(solver, _Purchase(work, kinds_of(work, ways)).model)
    if halt.is_asked:
        return 0  # stopped, perhaps before it began: nothing is known
    if status in (cp_model.OPTIMAL, cp_model.FEASIBLE, cp_model.UNKNOWN):
        return max(0, round(solver.best_objective_bound))
    return 0  # there is no way to press all of them: the search for a sequence will tell why


def kinds_of(work: SideWork, ways: Sequence[Way]) -> tuple[Kind, ...]:
    """The kinds that no other one betters."""
    kept: list[Kind] = []
    every = {kind for way in ways for kind in _kinds(work, way)}
    for kind in sorted(every, key=lambda k: (-k.counted.bit_count(), -k.most_s, k.counted)):
        if not any(better.betters(kind) for better in kept):
            kept.append(kind)
    return tuple(kept)


def _kinds(work: SideWork, way: Way) -> Iterator[Kind]:
    """One for each number of seconds that some part bears when it is pressed this way."""
    bears_s = {k: _bears_s(work, way, k) for k in members(way.counted)}
    for most_s in set(bears_s.values()) - {0}:
        yield Kind(bits_of(k for k, s in bears_s.items() if s >= most_s), most_s)


def _bears_s(work: SideWork, way: Way, part: int) -> int:
    """The most seconds at once for a part and what is down before it and touched; 0 if one scorches."""
    below = way.touched & work.parts_of(work.order.ever_before[work.parts[part].piece])
    if way.scorched & below:
        return 0
    return min(work.parts[k].material.longest_s for k in (part, *members(below)))


class _Purchase:
    """How many hits of each kind, which of them press a part, and which is its second press."""

    def __init__(self, work: SideWork, kinds: Sequence[Kind]) -> None:
        self.work, self.kinds = work, kinds
        self.model = cp_model.CpModel()
        self.bought = [self._number() for _ in kinds]
        self.presses = {(k, n): self._number() for n, kind in enumerate(kinds) for k in members(kind.counted)}
        self.finishes = {
            (k, n): self.model.new_bool_var("")
            for k, n in self.presses
            if 0 < work.parts[k].material.finish_s <= kinds[n].most_s
        }
        for k in range(len(work.parts)):
            self._pressed_down(k)
        for k, n in self.presses:
            self.model.add(self._use(k, n) <= self.bought[n])
        self._in_turn()
        for n, kind in enumerate(kinds):
            self._never_all_at_once(n, kind)
        self.model.minimize(sum(self.bought))

    def _number(self) -> cp_model.IntVar:
        return self.model.new_int_var(0, self._most, "")

    @cached_property
    def _most(self) -> int:
        """Surely enough of one kind: every part pressed at the shortest dwell, and once more."""
        shortest_s = self.work.shortest_s
        return sum(-(-part.material.least_s // shortest_s) + 1 for part in self.work.parts)

    def _use(self, part: int, n: int) -> cp_model.LinearExpr:
        return self.presses[part, n] + self.finishes.get((part, n), 0)

    def _pressed_down(self, k: int) -> None:
        material = self.work.parts[k].material
        of_part = [n for n, kind in enumerate(self.kinds) if kind.counted >> k & 1]
        seconds = sum(self.presses[k, n] * self.kinds[n].most_s for n in of_part)
        self.model.add(seconds >= material.least_s)
        if material.finish_s:
            self.model.add(sum(self.finishes.get((k, n), 0) for n in of_part) >= 1)

    def _in_turn(self) -> None:
        """One hit does not press two pieces of which one waits until the other is down."""
        order = self.work.order
        for p, (apart, before) in enumerate(zip(order.apart, order.ever_before, strict=True)):
            for other in members(apart | before):
                for k, n in self._uses_of(p):
                    for lower in members(self.work.parts_of_piece[other] & self.kinds[n].counted):
                        waits = before >> other & 1
                        ours = self._use(k, n) if waits else cp_model.LinearExpr.sum([self.presses[k, n]])
                        self.model.add(ours + self.presses[lower, n] <= self.bought[n])

    def _never_all_at_once(self, n: int, kind: Kind) -> None:
        """Of pieces that may not be in work together, every two of them, a hit presses one."""
        pressed = {self.work.parts[k].piece for k in members(kind.counted)}
        for clique in cliques(self._apart, bits_of(pressed)):
            if clique.bit_count() == 2:
                continue  # said pair by pair
            hits = []
            for piece in members(clique):
                most = self._number()
                for k in members(self.work.parts_of_piece[piece] & kind.counted):
                    self.model.add(most >= self.presses[k, n])
                hits.append(most)
            self.model.add(sum(hits) <= self.bought[n])

    @cached_property
    def _apart(self) -> list[int]:
        order = self.work.order
        apart = [a | b for a, b in zip(order.apart, order.ever_before, strict=True)]
        for piece, others in enumerate(list(apart)):
            for other in members(others):
                apart[other] |= 1 << piece
        return apart

    def _uses_of(self, piece: int) -> list[tuple[int, int]]:
        return [(k, n) for k, n in self.presses if self.work.parts[k].piece == piece]
