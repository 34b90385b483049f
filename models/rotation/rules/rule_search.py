"""Which rule works a floor soonest: they are tried on it, then the best is bettered by mixing its claims."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from models.rotation.problem.bounds import least_s
from models.rotation.problem.dispatch_rule import RULES, Rule
from models.rotation.problem.shop import Shop
from models.rotation.simulation.simulator import Act, Course, course_by

EFFORT = 10_000
"""Visits that may be gone through in all tries together: some half a second of work."""

MOST_TRIES = 800
MOST_MIXES = 40
"""Of one rule; before one more is tried, the oldest is let go."""
ROUNDING_S = 1e-6


@dataclass(frozen=True, slots=True)
class Tried:
    """A rule with the course that it gives. `earlier_s` sums the ends of the ranks done before the last."""

    rule: Rule
    course: Course
    earlier_s: float = 0.0

    @property
    def cost(self) -> tuple[float, int]:
        """Soonest done, summed over all ranks; of two as soon, the one with fewer changes of heat."""
        return (self.course.end_s + self.earlier_s, self.course.changes)


def best_rule(
    shop: Shop, preferred: Iterable[Rule] = (), effort: int = EFFORT, rules: Sequence[Rule] = RULES
) -> Tried:
    """The rule by which the garments are done soonest, of as many as `effort` allows. With several ranks the
    sum of their ends counts: every course serves the smaller rank first, and the rule is chosen for all.

    Half of the tries at most are given to rules as they are, the `preferred` ones first; at least one is
    tried. The others mix the claims of the best so far. The earlier of two equals is kept: a floor that goes
    on as it was foretold is not told another way at every step. It ends where nothing can be sooner. The same
    shop always gives the same rule.
    """
    visits = max(1, sum(len(garment.visits) for garment in shop.garments))
    tries = min(MOST_TRIES, max(1, effort // visits))
    known = tuple(dict.fromkeys((*preferred, *rules)))[: max(1, tries // 2)]
    least = least_s(shop) + ROUNDING_S
    best = _soonest((tried(shop, rule) for rule in known), least)
    # A floor on which a visit is done since goes on with numbers that it has not seen.
    first = visits * MOST_TRIES
    numbers = range(first, first + tries - len(known))
    return _bettered(shop, best, numbers, least)


def best_plain_rule(shop: Shop, rules: Iterable[Rule]) -> Tried:
    """The best of these rules as they are, with no claims mixed."""
    plain = dict.fromkeys(replace(rule, mixes=()) for rule in rules)
    return min((tried(shop, rule) for rule in plain), key=lambda one: one.cost)


def tried(shop: Shop, rule: Rule) -> Tried:
    course = course_by(shop, rule)
    return Tried(rule, course, sum(sorted(_ends_of_ranks(shop, course).values())[:-1]))


def _ends_of_ranks(shop: Shop, course: Course) -> dict[int, float]:
    ends_s: dict[int, float] = {}
    for step in course.steps:
        if step.act != Act.CHANGE:
            rank = shop.garments[step.garment].rank
            ends_s[rank] = max(ends_s.get(rank, 0.0), step.end_s)
    return ends_s


def _soonest(all_tried: Iterable[Tried], least_s: float) -> Tried:
    """The best of them, up to the first than which nothing can be sooner done."""
    looked_at = list[Tried]()
    for one in all_tried:
        looked_at.append(one)
        if one.cost[0] <= least_s:
            break
    return min(looked_at, key=lambda one: one.cost)


def _bettered(shop: Shop, best: Tried, numbers: Iterable[int], least_s: float) -> Tried:
    """The best with its claims mixed by each of the numbers in turn, and what is better kept."""
    for number in numbers:
        if best.cost[0] <= least_s:
            break
        mixes = (*best.rule.mixes, number)[-MOST_MIXES:]
        best = min(best, tried(shop, replace(best.rule, mixes=mixes)), key=lambda one: one.cost)
    return best
