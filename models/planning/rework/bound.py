"""How many closings it takes at the least until every part has what it wants.

Parts of which no two can be given their seconds by one closing take a closing each, or as many as one of them
wants by itself. Of such sets of parts the one that takes the most is found.
"""

from collections.abc import Mapping, Sequence
from functools import cached_property

from models.planning.problem.bitset import bits_of, members
from models.planning.rework.rules import Choice, State, Terms

NEVER = 2**31


class Bound:
    """A bound for any moment of one search: what it asks of the choices is the same throughout."""

    def __init__(self, terms: Terms, choices: Sequence[Choice], start: State) -> None:
        self.terms, self.choices, self.start = terms, choices, start

    def at_least(self, state: State) -> int:
        """Closings; NEVER where a part can no longer be given what it wants."""
        wanting = members(state.wanting)
        needs_s = {k: state.needs_s[k] for k in wanting}
        if any(needs_s[k] > state.left_s[k] or not self._most_s[k] for k in wanting):
            return NEVER
        presses = {k: -(-needs_s[k] // self._most_s[k]) for k in wanting}
        if not state.second:
            return self._pressed.heaviest(presses)
        with_second = {k: presses[k] + (state.second >> k & 1) for k in wanting}
        return max(self._pressed.heaviest(presses), self._counted.heaviest(with_second))

    def in_all(self, each: Mapping[int, int]) -> int:
        """What closings come to at the least that come to so much each where they count for some part."""
        return self._counted.heaviest(each)

    @cached_property
    def _most_s(self) -> tuple[int, ...]:
        """For each part, the longest that one closing can count for it."""
        most_s = [0] * len(self.terms.longest_s)
        for choice in self.choices:
            longest_s = self.terms.longest_of(self.start, choice, lays=0)
            for k in members(choice.counted):
                most_s[k] = max(most_s[k], min(longest_s, self.terms.longest_s[k], self.start.left_s[k]))
        return tuple(most_s)

    @cached_property
    def _counted(self) -> "Packing":
        """Parts share a closing that counts for both."""
        together = [0] * len(self.terms.longest_s)
        for choice in self.choices:
            for k in members(choice.counted):
                together[k] |= choice.counted
        return Packing(together)

    @cached_property
    def _pressed(self) -> "Packing":
        """Parts share a closing that gives both seconds: not where one waits until the other is down."""
        if not self.start.unlaid:
            return self._counted
        return Packing([parts & ~self._kept_apart(k) for k, parts in enumerate(self._counted.together)])

    def _kept_apart(self, part: int) -> int:
        """The parts of pieces that are not in work while the part's piece is."""
        pieces = range(len(self.terms.parts_of))
        mine = self.terms.piece_of[part]
        return self.terms.parts_in(bits_of(other for other in pieces if self._are_apart(mine, other)))

    def _are_apart(self, piece: int, other: int) -> bool:
        laying, new = self.terms.laying, self.start.unlaid
        return laying is not None and any(
            new >> a & 1 and laying.keeps_apart(a, b) for a, b in ((piece, other), (other, piece))
        )


class Packing:
    """The heaviest of the sets of parts of which no two stand `together`."""

    def __init__(self, together: Sequence[int]) -> None:
        self.together = together
        self._known: dict[tuple[tuple[int, int], ...], int] = {}

    def heaviest(self, weights: Mapping[int, int]) -> int:
        """What its parts weigh in all."""
        key = tuple(item for item in weights.items() if item[1])
        if key not in self._known:
            self._known[key] = self._heaviest(bits_of(k for k, _ in key), weights, {})
        return self._known[key]

    def _heaviest(self, among: int, weights: Mapping[int, int], known: dict[int, int]) -> int:
        """Of a part and those it stands together with, one at least is in the heaviest set: the part that
        stands with the fewest is looked at first.
        """
        if not among:
            return 0
        if among not in known:
            part = min(members(among), key=lambda k: (self.together[k] & among).bit_count())
            known[among] = max(
                weights[k] + self._heaviest(among & ~self.together[k] & ~(1 << k), weights, known)
                for k in members((self.together[part] | 1 << part) & among)
            )
        return known[among]
