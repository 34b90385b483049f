"""Which rule works a floor soonest: they are tried on it."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import count, islice

from models.rotation.bounds import least_s
from models.rotation.course import Course, course_by
from models.rotation.rule import RULES, Rule
from models.rotation.shop import Shop

EFFORT = 2_500
"""Visits that may be gone through in all tries together: some tenth of a second of work."""


MOST_TRIES = 400
ROUNDING_S = 1e-6


@dataclass(frozen=True, slots=True)
class Tried:
    rule: Rule
    course: Course

    @property
    def cost(self) -> tuple[float, int]:
        """Soonest done; of two as soon, the one with fewer changes of heat."""
        return (self.course.end_s, self.course.changes)


def best_rule(
    shop: Shop, preferred: Iterable[Rule] = (), effort: int = EFFORT, rules: Sequence[Rule] = RULES
) -> Tried:
    """The rule by which the garments are done soonest, of as many as `effort` allows.

    `preferred` come first, at least one is tried, and the earlier of two equals is kept: a floor that goes
    on as it was foretold is not told another way at every step. It ends where nothing can be sooner. The same
    shop always gives the same rule.
    """
    visits = max(1, sum(len(garment.visits) for garment in shop.garments))
    tries = min(MOST_TRIES, max(1, effort // visits))
    to_try = islice(_rules_from(tuple(preferred), rules), tries)
    return min(_tried(shop, to_try), key=lambda tried: tried.cost)


def _tried(shop: Shop, rules: Iterable[Rule]) -> Iterator[Tried]:
    """Ends with the first than which nothing can be sooner done."""
    least = least_s(shop) + ROUNDING_S
    for rule in rules:
        tried = Tried(rule, course_by(shop, rule))
        yield tried
        if tried.course.end_s <= least:
            return


def _rules_from(preferred: tuple[Rule, ...], rules: Sequence[Rule]) -> Iterator[Rule]:
    """The preferred ones, all plain ones, then each of those with the garments' order mixed ever anew."""
    yield from dict.fromkeys((*preferred, *rules))
    for jitter in count(1):
        yield from (replace(rule, jitter=jitter) for rule in rules)
