"""One side of a garment under extra hits: what its parts miss and bear now, and what a closing changes.

A part and a piece are numbers; sets of either are bits of an integer. A closing is one of the `Choice`s held
for some seconds, for which some new pieces may be laid.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property
from itertools import combinations
from typing import NamedTuple

from models.planning.problem.bitset import bits_of, members

UNBOUND_S = 2**31
"""More seconds than anything is pressed for."""


@dataclass(frozen=True, slots=True)
class Choice:
    """A place of the platen with a setting: the parts it touches, those of interest it counts for, and those
    of pieces not laid at first that it would scorch. `besides` is how many it touches that want nothing.
    """

    touched: int
    counted: int
    scorched: int = 0
    besides: int = field(default=0, compare=False)

    def does_no_less(self, other: "Choice") -> bool:
        """Whether it counts for all that `other` counts for, and touches and scorches nothing further."""
        too_much = (self.touched & ~other.touched) | (self.scorched & ~other.scorched)
        return not too_much and not other.counted & ~self.counted


class Closing(NamedTuple):
    """`lays` is the set of the new pieces laid for it."""

    choice: Choice
    dwell_s: int
    lays: int = 0


@dataclass(frozen=True)
class State:
    """For each part: what it misses until it is down, what of that it wants of the closings to come, and what
    it bears still. `second` are the parts that want a second press, `unlaid` the pieces that wait to be laid.
    """

    missing_s: tuple[int, ...]
    needs_s: tuple[int, ...] = field(compare=False)  # follows from what it misses
    left_s: tuple[int, ...]
    second: int = 0
    unlaid: int = 0

    @cached_property
    def missing(self) -> int:
        """The parts that miss something."""
        return bits_of(k for k, s in enumerate(self.missing_s) if s)

    @cached_property
    def wanting(self) -> int:
        """The parts that want something of the closings to come."""
        return self.second | bits_of(k for k, s in enumerate(self.needs_s) if s)


@dataclass(frozen=True, slots=True)
class Laying:
    """For each piece: those it lies on, those that its carrier lies on, and of these the ones that take none.

    `carried` are the pieces whose carrier is on until they are down.
    """

    on: tuple[int, ...]
    under_carrier: tuple[int, ...]
    takes_none: tuple[int, ...]
    carried: int

    def allows(self, lays: int, laid: int, down: int) -> bool:
        """Whether new pieces may be laid together on a garment on which these are laid, and these down."""
        in_work = lays | (laid & ~down)
        return all(self._allows(piece, in_work & ~(1 << piece), down) for piece in members(lays))

    def keeps_apart(self, piece: int, other: int) -> bool:
        """Whether `piece`, which is new, can't be pressed while `other` is."""
        return bool((self.on[piece] | self.under_carrier[piece]) >> other & 1)

    def waits_for(self, piece: int, other: int) -> bool:
        """Whether `piece`, which is new, can't be laid before `other` is down."""
        is_under = self.carried >> other & self.under_carrier[other] >> piece & 1
        return self.keeps_apart(piece, other) or bool(is_under)

    def _allows(self, piece: int, in_work: int, down: int) -> bool:
        if self.on[piece] & ~down or self.under_carrier[piece] & in_work or self.takes_none[piece] & down:
            return False
        return not any(self.under_carrier[other] >> piece & 1 for other in members(in_work & self.carried))


@dataclass(frozen=True)
class Terms:
    """What holds throughout. For each piece, `parts_of` holds its parts, and `first_s` what it takes at least
    in the closing that it is laid for; every other tuple has a number for each part.

    A part of `whole` that misses some must be counted wherever it is touched. It bears `longest_s` in one
    closing; a second press takes `second_s` in one.
    """

    parts_of: tuple[int, ...]
    whole: int
    first_s: tuple[int, ...]
    longest_s: tuple[int, ...]
    second_s: tuple[int, ...]
    shortest_s: int
    laying: Laying | None = None

    @cached_property
    def piece_of(self) -> tuple[int, ...]:
        """For each part, the number of its piece."""
        pairs = ((part, piece) for piece, parts in enumerate(self.parts_of) for part in members(parts))
        return tuple(piece for _, piece in sorted(pairs))

    def down(self, state: State) -> int:
        """The pieces that are down."""
        return bits_of(
            piece
            for piece, parts in enumerate(self.parts_of)
            if not parts & state.missing and not state.unlaid >> piece & 1
        )

    def awaited(self, state: State) -> int:
        """The pieces in work that some of those to be laid wait for."""
        in_work = bits_of(range(len(self.parts_of))) & ~state.unlaid & ~self.down(state)
        return bits_of(
            other
            for other in members(in_work)
            if self.laying is not None and any(self.laying.waits_for(n, other) for n in members(state.unlaid))
        )

    def parts_in(self, pieces: int) -> int:
        parts = 0
        for piece in members(pieces):
            parts |= self.parts_of[piece]
        return parts

    def half_pressed(self, state: State, choice: Choice, lays: int = 0) -> int:
        """The parts that must be counted where they are touched, and would not be."""
        unlaid = self.parts_in(state.unlaid & ~lays)
        return choice.touched & ~choice.counted & self.whole & ~unlaid & state.missing

    def lays_for(self, state: State, choice: Choice) -> Iterator[int]:
        """The sets of new pieces that may be laid for a closing there, the largest first."""
        if not state.unlaid or self.laying is None:
            yield 0
            return
        under = [piece for piece in members(state.unlaid) if self._may_be_laid(piece, choice)]
        laid, down = bits_of(range(len(self.parts_of))) & ~state.unlaid, self.down(state)
        for count in range(len(under), -1, -1):
            for pieces in combinations(under, count):
                lays = bits_of(pieces)
                if self.laying.allows(lays, laid, down):
                    yield lays

    def longest_of(self, state: State, choice: Choice, lays: int) -> int:
        """The longest dwell that all parts under the platen bear."""
        touched = choice.touched & ~self.parts_in(state.unlaid & ~lays)
        return min((min(self.longest_s[k], state.left_s[k]) for k in members(touched)), default=UNBOUND_S)

    def shortest_of(self, lays: int) -> int:
        """The shortest dwell of which the press is capable and after which the new pieces hold."""
        return max((self.shortest_s, *(self.first_s[piece] for piece in members(lays))))

    def allows(self, state: State, closing: Closing) -> bool:
        """Whether the closing is within the rules."""
        choice, dwell_s, lays = closing
        longest_s = self.longest_of(state, choice, lays)
        is_time_right = self.shortest_of(lays) <= dwell_s <= longest_s
        can_lay = lays in self.lays_for(state, choice)
        return is_time_right and can_lay and not self.half_pressed(state, choice, lays)

    def finishing(self, state: State, choice: Choice) -> int:
        """The parts for which a closing there is the second press, if it is long enough."""
        at_stake = choice.counted & state.second
        return at_stake & self.parts_in(self.down(state)) if at_stake else 0

    def after(self, state: State, closing: Closing) -> State:
        choice, dwell_s, lays = closing
        unlaid = state.unlaid & ~lays
        here = ~self.parts_in(unlaid)
        had = (k for k in members(self.finishing(state, choice)) if dwell_s >= self.second_s[k])
        return State(
            missing_s=_lowered(state.missing_s, choice.counted & here, dwell_s),
            needs_s=_lowered(state.needs_s, choice.counted & here, dwell_s),
            left_s=_lowered(state.left_s, choice.touched & here, dwell_s),
            second=state.second & ~bits_of(had),
            unlaid=unlaid,
        )

    def _may_be_laid(self, piece: int, choice: Choice) -> bool:
        parts = self.parts_of[piece]
        return bool(parts & choice.counted) and not parts & choice.scorched


def _lowered(seconds: tuple[int, ...], parts: int, by_s: int) -> tuple[int, ...]:
    lowered = list(seconds)
    for k in members(parts):
        lowered[k] = max(0, lowered[k] - by_s)
    return tuple(lowered)
