"""What to do now on the floor: the first thing that the best rule begins."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from models.rotation.problem.dispatch_rule import RULES, Rule
from models.rotation.problem.shop import Setting, Shop
from models.rotation.problem.thinned import visits_of
from models.rotation.rules.rule_search import best_rule
from models.rotation.simulation.simulator import Act, Step, beginning_by

LIVE_EFFORT = 1_200
"""Visits gone through at each event: some 45 ms of work."""
LARGE = 300
"""Visits from which on rules are not compared at each event."""
MOST_MIXED = 1_000
"""Of more visits no claims are mixed: it takes long, and wins nothing any more."""


@dataclass(frozen=True, slots=True)
class NextStep:
    """`step` is to be done now, or from `step.start_s` on where nothing can be before; None: all is done.

    `changes` are the presses that are set anew right now, whatever the hands do; `rule` is what was followed.
    """

    step: Step | None
    changes: tuple[Setting, ...]
    rule: Rule


def next_step(shop: Shop, preferred: Sequence[Rule] = (), effort: int = LIVE_EFFORT) -> NextStep:
    """The garment to take now, by the best rule found within `effort`.

    On a LARGE floor the first of the preferred ones is followed; another is found by a longer search, now
    and then.
    """
    visits = visits_of(shop)
    if visits >= LARGE:
        rule = next(iter(preferred), RULES[0])
        rule = replace(rule, mixes=()) if visits > MOST_MIXED else rule
        steps = beginning_by(shop, rule).steps
    else:
        best = best_rule(shop, preferred, effort)
        rule, steps = best.rule, best.course.steps
    hands = next((step for step in steps if step.act != Act.CHANGE), None)
    changes = tuple(step.setting for step in steps if step.act == Act.CHANGE and step.start_s == 0.0)
    return NextStep(hands, changes, rule)
