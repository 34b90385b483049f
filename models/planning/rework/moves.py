"""Which closings may come next on a side, and which of them are worth trying."""

from collections.abc import Iterator, Sequence
from functools import cached_property

from models.planning.problem.bitset import members
from models.planning.rework.rules import Choice, Closing, State, Terms


class Moves:
    """The closings that some choices allow. A part `barring` the way must be down before it may be touched
    by some of them, or before some new piece may be laid.
    """

    def __init__(self, choices: Sequence[Choice], terms: Terms, start: State) -> None:
        self.choices, self.terms = tuple(choices), terms
        self.barring = terms.parts_in(terms.awaited(start)) & start.missing
        for choice in choices:
            self.barring |= choice.touched & ~choice.counted & terms.whole & start.missing

    @cached_property
    def for_part(self) -> list[list[Choice]]:
        parts = range(len(self.terms.longest_s))
        return [[choice for choice in self.choices if choice.counted >> k & 1] for k in parts]

    def to_try(self, state: State, *, is_last: bool) -> Sequence[Choice]:
        """The choices of which one comes next, in some order of whatever closings are still to come.

        A closing that serves a part could as well come first, unless it is barred by parts that must be down
        before it; then one of those that serve these comes first. So the part with the fewest ways to hit it
        names them. This does not hold where a closing does something else when it comes earlier: where a
        piece is not laid yet, or a second press would be none. The last closing must serve every part.
        """
        if is_last:
            return [choice for choice in self.choices if not state.wanting & ~choice.counted]
        hardest = min(members(state.wanting), key=lambda k: len(self.for_part[k]))
        serving = self._serving_or_freeing(state, hardest)
        moved_in_vain = self._unsettled(state)
        return self.choices if any((c.touched | c.counted) & moved_in_vain for c in serving) else serving

    def closings(self, state: State, choice: Choice) -> Iterator[Closing]:
        """With the longest dwell that is of use for each set of new pieces that may be laid."""
        for lays in self.terms.lays_for(state, choice):
            if not self.terms.half_pressed(state, choice, lays):
                shortest_s = self.terms.shortest_of(lays)
                wanted_s = max(self.wanted_s(state, choice, lays), default=0)
                dwell_s = min(self.terms.longest_of(state, choice, lays), max(wanted_s, shortest_s))
                if wanted_s and dwell_s >= shortest_s:
                    yield Closing(choice, dwell_s, lays)

    def shorter(self, state: State, longest: Closing) -> Iterator[Closing]:
        """The closing and those as long as a part wants, or that leave it what a further closing can give."""
        choice, lays = longest.choice, longest.lays
        shortest_s, wanted_s = self.terms.shortest_of(lays), self.wanted_s(state, choice, lays)
        tried = {longest.dwell_s, *(max(s, shortest_s) for s in wanted_s)}
        if max(wanted_s) > longest.dwell_s:
            tried |= {s - self.terms.shortest_s for s in wanted_s}
        for dwell_s in sorted(tried, reverse=True):
            if shortest_s <= dwell_s <= longest.dwell_s:
                yield longest._replace(dwell_s=dwell_s)

    def wanted_s(self, state: State, choice: Choice, lays: int = 0) -> set[int]:
        """The seconds that the parts under the platen want, until they have all or bar nothing any longer."""
        terms = self.terms
        counted = choice.counted & ~terms.parts_in(state.unlaid & ~lays)
        wanted = {state.needs_s[k] for k in members(counted)}
        wanted |= {state.missing_s[k] for k in members(counted & self.barring)}
        wanted |= {terms.second_s[k] for k in members(terms.finishing(state, choice))}
        return wanted - {0}

    def _serving_or_freeing(self, state: State, part: int) -> list[Choice]:
        """What serves the part; where some of that is barred, what serves the parts barring it; and so on."""
        found, seen, waiting = dict.fromkeys(self.for_part[part]), {part}, list(self.for_part[part])
        while waiting:
            for k in members(self.terms.half_pressed(state, waiting.pop())):
                if k not in seen:
                    seen.add(k)
                    fresh = [choice for choice in self.for_part[k] if choice not in found]
                    found.update(dict.fromkeys(fresh))
                    waiting += fresh
        return list(found)

    def _unsettled(self, state: State) -> int:
        """The parts for which it matters whether a closing comes sooner or later."""
        terms = self.terms
        if not state.unlaid and not state.second:
            return 0
        not_down = ~terms.parts_in(terms.down(state))
        return terms.parts_in(state.unlaid) | (state.second & not_down)
