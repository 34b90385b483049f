"""As many closings as it takes, but with less heat for what wants none, and then with fewer seconds."""

from contextlib import suppress
from functools import cached_property

from models.planning.problem.bitset import members
from models.planning.rework.bound import Bound
from models.planning.rework.depth import Closings, SpentError, Tries
from models.planning.rework.moves import Moves
from models.planning.rework.rules import Closing, State

Cost = tuple[int, int]  # parts heated that want nothing, seconds


def cost_of(closings: Closings) -> Cost:
    return sum(c.choice.besides for c in closings), sum(c.dwell_s for c in closings)


class Cooling:
    """Goes on from `best`, and leaves what cannot be cheaper or was reached as cheaply before."""

    def __init__(self, moves: Moves, bound: Bound, best: Closings, tries: Tries) -> None:
        self.moves, self.bound, self.best, self.tries = moves, bound, best, tries
        self._best_cost = cost_of(best)
        self._reached: dict[tuple[State, int], Cost] = {}

    def of(self, state: State) -> Closings:
        """The best that is found before the tries are spent."""
        with suppress(SpentError):
            self._go_on(state, ())
        return self.best

    def _go_on(self, state: State, so_far: Closings) -> None:
        if not state.wanting:
            self.best, self._best_cost = so_far, cost_of(so_far)
            return
        for closing, after in self._closings(state, len(self.best) - len(so_far)):
            if self._may_be_better(after, (*so_far, closing)):
                self._go_on(after, (*so_far, closing))

    def _closings(self, state: State, left: int) -> list[tuple[Closing, State]]:
        """First what leaves the fewest parts wanting, then what heats the fewest others, the shortest."""
        terms = self.moves.terms
        told = [
            (closing, terms.after(state, closing))
            for choice in self.moves.to_try(state, is_last=left == 1)
            for longest in self.moves.closings(state, choice)
            for closing in self.moves.shorter(state, longest)
        ]
        return sorted(told, key=lambda found: (found[1].wanting.bit_count(), cost_of((found[0],))))

    def _may_be_better(self, state: State, so_far: Closings) -> bool:
        self.tries.take()
        cost, left = cost_of(so_far), len(self.best) - len(so_far)
        known = self._reached.get((state, left))
        if (known is not None and known <= cost) or self.bound.at_least(state) > left:
            return False
        self._reached[state, left] = cost
        besides, seconds = self._at_least(state)
        return (cost[0] + besides, cost[1] + seconds) < self._best_cost

    def _at_least(self, state: State) -> Cost:
        """What is heated, and for how long, while the parts that want something are served."""
        shortest_s, wanting = self.moves.terms.shortest_s, members(state.wanting)
        besides = self.bound.in_all({k: self._fewest_besides[k] for k in wanting})
        return besides, self.bound.in_all({k: max(state.needs_s[k], shortest_s) for k in wanting})

    @cached_property
    def _fewest_besides(self) -> list[int]:
        """For each part, how many parts that want nothing are heated with it at the least."""
        return [min((c.besides for c in choices), default=0) for choices in self.moves.for_part]
