"""So many closings and no more: whether they are enough for all that is wanted on a side."""

from collections.abc import Iterator

from models.planning.rework.bound import NEVER, Bound
from models.planning.rework.moves import Moves
from models.planning.rework.rules import Choice, Closing, State
from models.planning.rework.thinning import limited_parts, ordered_parts, thinned

Closings = tuple[Closing, ...]


class SpentError(Exception):
    """As much has been tried as may be."""


class Tries:
    """How much may still be tried."""

    def __init__(self, most: int) -> None:
        self.left = most

    def take(self) -> None:
        """Raises SpentError where nothing more may be tried."""
        if not self.left:
            raise SpentError
        self.left -= 1


class Completion:
    """Looks for closings that give every part what it wants, whatever they heat within the limits.

    Where a part under the platen is `limited`, every whole second is tried, the longest dwell first; for all
    others the longest that is of use does no harm. A moment that has failed with as many closings left is not
    tried again.
    """

    def __init__(self, moves: Moves, bound: Bound, tries: Tries) -> None:
        self.moves, self.bound, self.tries = moves, bound, tries
        self._failed: dict[State, int] = {}

    def of(self, state: State, most: int) -> Closings | None:
        """At most so many closings; None where it is proved that there are none. Raises SpentError."""
        if not state.wanting:
            return ()
        if self._failed.get(state, 0) >= most:
            return None
        for closing, after in self._promising(state, most):
            rest = self.of(after, most - 1)
            if rest is not None:
                return (closing, *rest)
        self._failed[state] = most
        return None

    def _promising(self, state: State, most: int) -> list[tuple[Closing, State]]:
        """The closings after which as many as are left may be enough, those that leave the least first."""
        limited = limited_parts(self.moves.terms, state, most)
        told = [
            found
            for choice in self._differing(state, limited, is_last=most == 1)
            for longest in self.moves.closings(state, choice)
            for found in self._enough(state, longest, most - 1, is_limited=bool(choice.touched & limited))
        ]
        return sorted(told, key=lambda found: found[1].wanting.bit_count())

    def _differing(self, state: State, limited: int, *, is_last: bool) -> list[Choice]:
        """Of the choices to try, those that still do something else than the ones before."""
        counting = state.wanting | (state.missing & self.moves.barring)
        heeded = limited | ordered_parts(self.moves.terms, state)
        return list(thinned(self.moves.to_try(state, is_last=is_last), heeded, counting).values())

    def _enough(
        self, state: State, longest: Closing, left: int, *, is_limited: bool
    ) -> Iterator[tuple[Closing, State]]:
        """The closing, or a shorter one: the shorter it is the more is left to do."""
        terms = self.moves.terms
        is_any = is_limited and left
        shortest_s = terms.shortest_of(longest.lays) if is_any else longest.dwell_s
        for dwell_s in range(longest.dwell_s, shortest_s - 1, -1):
            self.tries.take()
            closing = longest._replace(dwell_s=dwell_s)
            after = terms.after(state, closing)
            at_least = self.bound.at_least(after)
            if left < at_least < NEVER:
                return
            if at_least <= left:
                yield closing, after
