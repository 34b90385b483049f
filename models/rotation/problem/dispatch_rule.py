"""The rules by which a floor can be worked: what goes first where several things could be done.

None of them is the best for every batch; models.rotation.rules.rule_search tries them on the batch in hand.
"""

from dataclasses import dataclass
from enum import StrEnum
from itertools import product


class First(StrEnum):
    """Which garment goes first at the same setting."""

    LONGEST_AHEAD = "longest ahead"  # what has most work and rest still to come
    NEAREST_DONE = "nearest done"  # what has least, so that each garment is finished soon


class Change(StrEnum):
    """When the press is set anew, once nothing is ready at its setting."""

    AT_ONCE = "at once"  # as soon as something is ready at another
    WHEN_QUICKER = "when quicker"  # not where waiting is shorter than changing there and back
    WHEN_EXHAUSTED = "when exhausted"  # not while any garment still comes to this setting


class To(StrEnum):
    """Which setting it is changed to."""

    SOONEST = "soonest"  # where the next hit can begin first
    MOST = "most"  # where most garments wait
    EARLIEST_STEP = "earliest step"  # where the garments are that have come least far


@dataclass(frozen=True, slots=True)
class Rule:
    """`finish_first`: peel and check what has rested before the free press is filled.

    `mixes` change the claims of some garments, one after the other, each number in its own way.
    """

    first: First = First.LONGEST_AHEAD
    change: Change = Change.WHEN_EXHAUSTED
    to: To = To.SOONEST
    finish_first: bool = False
    mixes: tuple[int, ...] = ()


RULES = tuple(
    Rule(first, change, to, finish_first)
    for finish_first, change, to, first in product((False, True), Change, To, First)
)
"""All of them, the likeliest in front of its like."""
