"""Whether all garments go through one setting and then the next, or each is pressed whole: all is tried."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from models.rotation.problem.dispatch_rule import RULES, Change, Rule
from models.rotation.problem.shop import Setting, Shop
from models.rotation.problem.thinned import thinned, visits_of
from models.rotation.rules.rule_search import Tried, best_plain_rule, best_rule, tried
from models.rotation.rules.whole_garments import course_whole
from models.rotation.simulation.simulator import Act, Course

EFFORT = 5_000
"""Visits gone through for each kind of rule: some quarter of a second of work."""
LARGE = 1_000
"""Of a shop with more visits, SOME stand for all while rules are compared."""
SOME = 300
"""All rules on so many visits: some half a second of work."""


@dataclass(frozen=True, slots=True)
class Passes:
    """Seconds until all is done in three ways, and the settings of the best way in their order.

    `in_turn_s` changes the heat as soon as anything waits at another; `by_setting_s` only once nothing comes
    any more to the one that is set; `whole_s` presses each garment whole, without rotation.
    """

    best: Tried
    settings: tuple[Setting, ...]
    by_setting_s: float
    in_turn_s: float
    whole_s: float

    @property
    def is_by_setting(self) -> bool:
        """Whether going setting by setting is as good as anything that was tried."""
        return self.by_setting_s <= self.best.course.end_s


def passes(shop: Shop, preferred: Collection[Rule] = (), effort: int = EFFORT) -> Passes:
    """The three ways of working the shop, and the best that was found; `effort` is for each kind of rule.

    The `preferred` ones are the first to be tried, and bettered.
    """
    if visits_of(shop) > LARGE:
        return _passes_of_many(shop, preferred)
    kinds = {change: _best(shop, preferred, change, effort) for change in Change}
    best = min(kinds.values(), key=lambda one: one.cost)
    return _told(shop, best, kinds, 1.0)


def _passes_of_many(shop: Shop, preferred: Collection[Rule]) -> Passes:
    """Try the rules on some of the garments, and the best of them on all. The other times are scaled."""
    some = thinned(shop, SOME)
    kinds = {
        change: best_plain_rule(some, (rule for rule in (*preferred, *RULES) if rule.change == change))
        for change in Change
    }
    found = min(kinds.values(), key=lambda one: one.cost)
    best = tried(shop, found.rule)
    return _told(shop, best, kinds, best.course.end_s / found.course.end_s)


def _told(shop: Shop, best: Tried, kinds: Mapping[Change, Tried], scale: float) -> Passes:
    return Passes(
        best=best,
        settings=_settings_of(best.course),
        by_setting_s=kinds[Change.WHEN_EXHAUSTED].course.end_s * scale,
        in_turn_s=kinds[Change.AT_ONCE].course.end_s * scale,
        whole_s=course_whole(shop).end_s,
    )


def _best(shop: Shop, preferred: Collection[Rule], change: Change, effort: int) -> Tried:
    own, others = ([rule for rule in rules if rule.change == change] for rules in (preferred, RULES))
    return best_rule(shop, own, effort, others)


def _settings_of(course: Course) -> tuple[Setting, ...]:
    """The settings in the order in which hits are begun at them, one that follows itself told once."""
    told: list[Setting] = []
    last: dict[str, Setting] = {}
    for step in course.steps:
        if step.act == Act.PRESS and last.get(step.setting.press) != step.setting:
            last[step.setting.press] = step.setting
            told.append(step.setting)
    return tuple(told)
