"""The fewest closings that give some parts on one side the seconds they miss.

A part is a number; sets of parts are bits of an integer. A closing is one of the `Choice`s (what it touches,
and which parts of interest it counts for) held for some seconds. The search goes depth by depth, so that the
first depth with an answer has the fewest closings. Among the answers of that depth it takes the one that
heats the fewest parts that want nothing, and then the fewest seconds.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

MOST_TRIED = 4_000
"""Tries after which the search gives the best answer so far, or else the first it finds straight on."""


@dataclass(frozen=True, slots=True)
class Choice:
    """A place of the platen with a setting: the parts it touches, and those of interest it counts for."""

    touched: int
    counted: int

    def betters(self, other: "Choice") -> bool:
        """Whether it touches no more and counts for all of the same."""
        touches_no_more = self.touched | other.touched == other.touched
        return touches_no_more and self.counted | other.counted == self.counted


@dataclass(frozen=True, slots=True)
class Closing:
    choice: Choice
    dwell_s: int


Answer = tuple[Closing, ...]


@dataclass(frozen=True, slots=True)
class Wants:
    """What each part wants and bears; every tuple holds a number for each part.

    It wants `needs_s` of these closings (a part `at_once` in a single one) and misses `missing_s` until it is
    down; a part of `whole` that misses some must be counted wherever it is touched. It bears `longest_s` in
    one closing and `left_s` in all.
    """

    needs_s: tuple[int, ...]
    missing_s: tuple[int, ...]
    at_once: int
    whole: int
    longest_s: tuple[int, ...]
    left_s: tuple[int, ...]
    shortest_s: int

    @property
    def wanting(self) -> int:
        return _bits_where(self.needs_s)

    def dwells_of(self, choice: Choice) -> list[int]:
        """The seconds worth trying, longest first; none where the choice is of no use or against a rule."""
        needs = {self.needs_s[k] for k in members(choice.counted & self.wanting)}
        if not needs or self._half_presses(choice):
            return []
        longest = min(min(self.longest_s[k], self.left_s[k]) for k in members(choice.touched))
        tried = {max(need, self.shortest_s) for need in needs}
        if max(needs) > longest:  # the rest comes in a further closing, which must not be too short
            tried |= {longest, *(need - self.shortest_s for need in needs)}
        return sorted((s for s in tried if self.shortest_s <= s <= longest), reverse=True)

    def after(self, closing: Closing) -> "Wants":
        touched, counted = closing.choice.touched, closing.choice.counted
        return replace(
            self,
            needs_s=tuple(self._need_after(k, closing) for k in range(len(self.needs_s))),
            missing_s=_lowered(self.missing_s, counted, closing.dwell_s),
            left_s=_lowered(self.left_s, touched, closing.dwell_s),
        )

    def _half_presses(self, choice: Choice) -> bool:
        return bool(choice.touched & ~choice.counted & self.whole & _bits_where(self.missing_s))

    def _need_after(self, k: int, closing: Closing) -> int:
        need = self.needs_s[k]
        too_short = self.at_once >> k & 1 and closing.dwell_s < need
        if too_short or not closing.choice.counted >> k & 1:
            return need
        return max(0, need - closing.dwell_s)


def members(parts: int) -> Iterator[int]:
    """The numbers of the parts in a set."""
    while parts:
        lowest = parts & -parts
        yield lowest.bit_length() - 1
        parts ^= lowest


def fewest_closings(choices: Sequence[Choice], wants: Wants) -> Answer | None:
    """The fewest closings that give every part what it needs; None where none were found."""
    search = _Search(choices, wants)
    most = sum(-(-need // wants.shortest_s) for need in wants.needs_s)
    for depth in range(1, most + 1):
        search.descend(wants, depth, ())
        if search.best or search.tries_left <= 0:
            break
    return search.best or search.straight_on(wants)


class _Search:
    def __init__(self, choices: Sequence[Choice], wants: Wants) -> None:
        self.wanting = wants.wanting
        self.useful = _undominated([choice for choice in choices if choice.counted & self.wanting])
        self.for_part = {k: [c for c in self.useful if c.counted >> k & 1] for k in members(self.wanting)}
        self.tries_left = MOST_TRIED
        self.best: Answer | None = None

    def descend(self, wants: Wants, depth: int, so_far: Answer) -> None:
        """Look for better answers of `depth` more closings at most."""
        if self.best is not None and self._cost(so_far) >= self._cost(self.best):
            return
        if not wants.wanting:
            self.best = so_far
            return
        if self._at_least(wants.wanting) > depth:
            return
        for closing in self._closings(wants, self._choices(wants, depth)):
            self.tries_left -= 1
            if self.tries_left < 0:
                return
            self.descend(wants.after(closing), depth - 1, (*so_far, closing))

    def straight_on(self, wants: Wants) -> Answer | None:
        """An answer by taking the best closing each time, without looking back."""
        answer: Answer = ()
        while wants.wanting:
            closing = next(iter(self._closings(wants, self.useful)), None)
            if closing is None:
                return None
            answer, wants = (*answer, closing), wants.after(closing)
        return answer

    def _choices(self, wants: Wants, depth: int) -> list[Choice]:
        """The last closing must serve every part, so the part with the fewest choices names them. Before it,
        any may come next: a part can bar the way to another one until it is down.
        """
        if depth > 1:
            return self.useful
        return min((self.for_part[k] for k in members(wants.wanting)), key=len)

    def _closings(self, wants: Wants, choices: Sequence[Choice]) -> list[Closing]:
        """First what leaves the fewest parts wanting, then what heats the fewest others, the shortest."""
        closings = [Closing(choice, dwell) for choice in choices for dwell in wants.dwells_of(choice)]
        left = {closing: wants.after(closing) for closing in closings}
        helpful = [closing for closing in closings if left[closing].needs_s != wants.needs_s]
        return sorted(helpful, key=lambda c: (left[c].wanting.bit_count(), self._cost((c,))))

    def _at_least(self, wanting: int) -> int:
        """A number of closings below which it cannot be done: parts of which no two fit under one."""
        apart, reached = 0, 0
        for k in members(wanting):
            if not reached >> k & 1:
                apart += 1
                for choice in self.for_part[k]:
                    reached |= choice.counted
        return apart

    def _cost(self, answer: Answer) -> tuple[int, int]:
        heated = sum((closing.choice.touched & ~self.wanting).bit_count() for closing in answer)
        return heated, sum(closing.dwell_s for closing in answer)


def _undominated(choices: Sequence[Choice]) -> list[Choice]:
    kept: list[Choice] = []
    for choice in sorted(set(choices), key=lambda c: (c.touched.bit_count(), -c.counted.bit_count())):
        if not any(better.betters(choice) for better in kept):
            kept.append(choice)
    return kept


def _bits_where(seconds: Sequence[int]) -> int:
    return sum(1 << k for k, s in enumerate(seconds) if s > 0)


def _lowered(seconds: tuple[int, ...], parts: int, by_s: int) -> tuple[int, ...]:
    return tuple(s - by_s if parts >> k & 1 else s for k, s in enumerate(seconds))
