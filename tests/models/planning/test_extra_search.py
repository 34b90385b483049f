"""The search for the fewest closings against every row of closings that there is, on a few parts."""

import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from hypothesis import given, settings
from hypothesis import strategies as st

from models.planning.bits import bits_of, members
from models.planning.extra_bound import Packing
from models.planning.extra_search import fewest_closings
from models.planning.extra_state import Choice, State, Terms

MOST = 4  # closings in a row that are tried
SHORTEST_S = 3


class Part(NamedTuple):
    """One part of a piece; what it wants comes before `given_s` that hits ahead give it."""

    wants_s: int
    given_s: int
    left_s: int
    longest_s: int
    second_s: int


@dataclass(frozen=True)
class Case:
    """Every piece is one part, but for the last two parts where they are one piece."""

    parts: tuple[Part, ...]
    choices: tuple[Choice, ...]
    ends_in_two: bool

    @property
    def pieces(self) -> list[tuple[int, ...]]:
        numbers = list(range(len(self.parts)))
        return [*((k,) for k in numbers[:-2]), tuple(numbers[-2:])] if self.ends_in_two else [(k,) for k in numbers]


@st.composite
def cases(draw: st.DrawFn) -> Case:
    dice = random.Random(draw(st.integers(0, 2**32 - 1)))
    count = draw(st.integers(2, 4))
    parts = tuple(_part(dice) for _ in range(count))
    choices = tuple(_choice(dice, count) for _ in range(draw(st.integers(2, 6))))
    return Case(parts, choices, ends_in_two=dice.random() < 0.3)


def _part(dice: random.Random) -> Part:
    wants_s = dice.choice((0, 2, 4, 5, 8))
    given_s = dice.choice((0, 0, 0, 4))
    is_down = wants_s + given_s == 0
    return Part(
        wants_s, given_s, dice.choice((6, 9, 12, 16, 30)), dice.choice((4, 5, 8)), dice.choice((0, 3)) * is_down
    )


def _choice(dice: random.Random, count: int) -> Choice:
    touched = dice.randrange(1, 2**count)
    return Choice(touched, touched & dice.randrange(2**count))
