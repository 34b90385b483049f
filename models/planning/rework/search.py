"""The fewest closings that give the parts of one side what they want, and of these the ones that heat least.

The number is found depth by depth: the first depth with an answer has the fewest, if no depth before it was
left half searched. Then as many closings are sought that heat fewer parts that want nothing, and for fewer
seconds.
"""

from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace

from models.planning.rework.bound import NEVER, Bound
from models.planning.rework.depth import Closings, Completion, SpentError, Tries
from models.planning.rework.least_heat import Cooling, cost_of
from models.planning.rework.moves import Moves
from models.planning.rework.rules import UNBOUND_S, Choice, Closing, State, Terms
from models.planning.rework.thinning import (
    by_heat,
    limited_parts,
    ordered_parts,
    thinned,
    unbarred,
    unbettered,
)

MOST_TRIED = 20_000
"""Closings tried for the fewest, after which the best so far is given as not proved."""

MOST_COOLED = 4_000
"""Closings tried for less heat, after which the best so far is given."""


@dataclass(frozen=True, slots=True)
class Answer:
    """The closings, None where none were found. It is proved that it takes `at_least` so many."""

    closings: Closings | None
    at_least: int

    @property
    def is_proved(self) -> bool:
        """Whether no fewer do; of none, whether there are none."""
        return (NEVER if self.closings is None else len(self.closings)) <= self.at_least


def fewest_closings(choices: Sequence[Choice], terms: Terms, start: State) -> Answer:
    """The fewest closings found that give every part what it wants."""
    told = [
        replace(choice, besides=(choice.touched & ~start.wanting).bit_count())
        for choice in set(choices)
        if terms.longest_of(start, choice, lays=0) >= terms.shortest_s
    ]
    return _Search(unbettered(by_heat(unbarred(told, terms, start))), terms, start).answer()


class _Search:
    """`at_least` is raised as far as it is proved."""

    def __init__(self, choices: Sequence[Choice], terms: Terms, start: State) -> None:
        self.choices = sorted(choices, key=lambda c: c.besides)
        self.terms, self.start = terms, start
        self.bound = Bound(terms, choices, start)
        self.at_least = self.bound.at_least(start)
        self.tries = Tries(MOST_TRIED)

    def answer(self) -> Answer:
        best = self._fewest() if self.at_least < NEVER else None
        return Answer(best if best is None else self._cooled(best), self.at_least)

    def _fewest(self) -> Closings | None:
        """What cannot be done by parts that bear any heat cannot be done at all, and that is soon tried."""
        best = straight_on(self._moves(self.choices), self.start)
        most = self._most() if best is None else len(best) - 1
        bearing_all = replace(self.start, left_s=tuple(UNBOUND_S for _ in self.start.left_s))
        with suppress(SpentError):
            self._at_first_depth(bearing_all, most)
            best = self._at_first_depth(self.start, most) or best
            self.at_least = NEVER if best is None else self.at_least
        return best

    def _at_first_depth(self, start: State, most: int) -> Closings | None:
        while self.at_least <= most:
            found = self._completed(start)
            if found is not None:
                return found
            self.at_least += 1
        return None

    def _most(self) -> int:
        """No more are of use: each gives a part that misses some a shortest closing, or its second press."""
        presses = sum(-(-missing_s // self.terms.shortest_s) for missing_s in self.start.missing_s)
        return presses + self.start.second.bit_count()

    def _completed(self, start: State) -> Closings | None:
        thin = self._thin(start, self.at_least)
        moves = self._moves(unbettered(by_heat(thin)))
        found = Completion(moves, self.bound, self.tries).of(start, self.at_least)
        return None if found is None else _in_full(found, thin)

    def _cooled(self, best: Closings) -> Closings:
        thin = self._thin(self.start, len(best))
        moves = self._moves(unbettered(thin))
        return _in_full(Cooling(moves, self.bound, best, Tries(MOST_COOLED)).of(self.start), thin)

    def _thin(self, start: State, count: int) -> dict[Choice, Choice]:
        """The choices as they differ for so many closings."""
        heeded = limited_parts(self.terms, start, count) | ordered_parts(self.terms, start)
        return thinned(self.choices, heeded)

    def _moves(self, choices: Sequence[Choice]) -> Moves:
        return Moves(choices, self.terms, self.start)


def _in_full(closings: Closings, thin: Mapping[Choice, Choice]) -> Closings:
    return tuple(c._replace(choice=thin.get(c.choice, c.choice)) for c in closings)


def straight_on(moves: Moves, state: State) -> Closings | None:
    """An answer by taking the best closing each time, without looking back."""
    answer: Closings = ()
    while state.wanting:
        told = [closing for choice in moves.choices for closing in moves.closings(state, choice)]
        found = min(told, key=lambda c: (*_left_after(moves.terms, state, c), cost_of((c,))), default=None)
        if found is None or _left_after(moves.terms, state, found) >= _left_after(moves.terms, state):
            return None
        answer, state = (*answer, found), moves.terms.after(state, found)
    return answer


def _left_after(terms: Terms, state: State, closing: Closing | None = None) -> tuple[int, int]:
    """How many parts want something then, and how many seconds in all."""
    after = state if closing is None else terms.after(state, closing)
    return after.wanting.bit_count(), sum(after.needs_s)
