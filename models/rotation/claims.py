"""Which garment goes first at a setting, by a rule."""

import random
from collections.abc import Iterator
from dataclasses import dataclass

from models.rotation.rule import First, Rule
from models.rotation.shop import Garment

MIXES = (0.1, 0.3, 1.0)
"""By how much of its own claim a jitter moves a garment: little, some, or as it likes."""
SWAP = 0.3
"""How often a jitter turns round what a rule does first."""


@dataclass(frozen=True, slots=True)
class Claim:
    """A visit's place in the queue, the smallest first; `swaps` where its finish breaks the rule's order."""

    place: float
    swaps: bool


def claims_of(garment: Garment, rule: Rule) -> Iterator[Claim]:
    """Of each visit."""
    sign = -1.0 if rule.first == First.LONGEST_AHEAD else 1.0
    for (by, swaps), tail_s in zip(_mixes(garment, rule.jitter), garment.tails_s, strict=True):
        yield Claim(sign * (1.0 + by) * tail_s, swaps)


def _mixes(garment: Garment, jitter: int) -> list[tuple[float, bool]]:
    """How far each visit's claim is moved, and whether its finish is; the same at every later visit."""
    if not jitter:
        return [(0.0, False)] * len(garment.visits)
    mixed, mix = random.Random(f"{jitter} {garment.code}"), MIXES[jitter % len(MIXES)]
    from_the_last = [(mixed.uniform(-mix, mix), mixed.random() < SWAP) for _ in garment.visits]
    return from_the_last[::-1]
