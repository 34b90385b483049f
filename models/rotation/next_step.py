"""What to do now on the floor: the first thing that the best rule begins."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

from models.rotation.best_rule import Tried, best_rule
from models.rotation.course import Act, Step
from models.rotation.rule import Rule
from models.rotation.shop import Setting, Shop

LIVE_EFFORT = 1_500
"""Visits gone through at each event: some 30 ms of work; the preferred rule is always tried."""


@dataclass(frozen=True, slots=True)
class NextStep:
    """`step` is to be done now, or from `step.start_s` on where nothing can be before; None: all is done.

    `changes` are the presses that are set anew right now, whatever the hands do.
    """

    step: Step | None
    changes: tuple[Setting, ...]
    tried: Tried

    @property
    def waits_s(self) -> float:
        return self.step.start_s if self.step is not None else math.inf


def next_step(shop: Shop, preferred: Iterable[Rule] = (), effort: int = LIVE_EFFORT) -> NextStep:
    """The garment to take now, by the best rule found within `effort`."""
    tried = best_rule(shop, preferred, effort)
    steps = tried.course.steps
    hands = next((step for step in steps if step.act != Act.CHANGE), None)
    changes = tuple(step.setting for step in steps if step.act == Act.CHANGE and step.start_s == 0.0)
    return NextStep(hands, changes, tried)
