"""What a garment goes by where it competes with others: its claims, by a rule and by the mixes of that."""

import random
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from models.rotation.problem.dispatch_rule import First, Rule
from models.rotation.problem.shop import Garment

REACHES = (0.1, 0.3, 1.0)
"""By how much a mix moves a claim at most, as a part of it: little, some, or as it likes."""
SHARES = (0.15, 0.4, 1.0)
"""How many of all claims a mix moves."""
SWAP = 0.3
"""How often it turns round what a rule does first."""
REMEMBERED = 50_000


Place = tuple[int, float]
"""Rank of the garment, and its place among those of the same rank."""
IN_HAND: Place = (-1, 0.0)
"""Before every rank."""


@dataclass(frozen=True, slots=True)
class Claim:
    """A visit's place in the queue, the smallest first: by rank, then by what the rule prefers.

    `weight` is what its laying counts where several presses are free, `swaps` where its finish breaks the
    rule's order.
    """

    place: Place
    weight: float
    swaps: bool


@dataclass(frozen=True, slots=True)
class _Moved:
    by: float = 0.0
    swaps: bool = False


def claims_of(garment: Garment, rule: Rule) -> Iterator[Claim]:
    """Of each visit."""
    sign = -1.0 if rule.first == First.LONGEST_AHEAD else 1.0
    moves = _moves(garment.code, len(garment.visits), rule.mixes)
    for n, (moved, tail_s) in enumerate(zip(moves, garment.tails_s, strict=True)):
        weight = 1.0 + moved.by
        is_first = garment.is_in_hand and n == 0
        place = IN_HAND if is_first else (garment.rank, sign * weight * tail_s)
        yield Claim(place, weight, moved.swaps)


@lru_cache(REMEMBERED)
def _moves(code: str, visits: int, mixes: tuple[int, ...]) -> tuple[_Moved, ...]:
    """How far each visit's claim is moved by all the mixes together."""
    if not mixes:
        return (_Moved(),) * visits
    before, last = _moves(code, visits, mixes[:-1]), _mix(code, visits, mixes[-1])
    return tuple(_Moved(a.by + b.by, a.swaps != b.swaps) for a, b in zip(before, last, strict=True))


@lru_cache(REMEMBERED)
def _mix(code: str, visits: int, number: int) -> tuple[_Moved, ...]:
    """Drawn from the garment's last visit on: what is moved stays so when visits lie behind it."""
    dice = random.Random(f"{number} {code}")
    reach, share = REACHES[number % 3], SHARES[number // 3 % 3]
    drawn = (
        _Moved(dice.uniform(-reach, reach), dice.random() < SWAP) if dice.random() < share else _Moved()
        for _ in range(visits)
    )
    return tuple(drawn)[::-1]
