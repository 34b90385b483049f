"""When each batch will be done: a median and a range, from courses with drawn hand times."""

import random
from collections.abc import Sequence
from dataclasses import dataclass, replace

from models.rotation.problem.dispatch_rule import Rule
from models.rotation.problem.shop import Garment, Shop
from models.rotation.problem.thinned import thinned, visits_of
from models.rotation.simulation.simulator import Act, Course, course_by
from models.rotation.times.pace import DrawnPace, Hand, Pace, at_pace, draw_pace, visit_with_hands

COURSES = 100
EFFORT = 10_000
"""Visits gone through in all courses together: half a second of work."""
FEWEST_COURSES = 40
DRAWN = 300
"""Of a shop with more visits, so many stand for all in the drawn courses."""


@dataclass(frozen=True, slots=True)
class Forecast:
    """Seconds of work until all is done: eight of ten times between `low_s` and `high_s`.

    Pauses are not in it: nobody knows when they are made.
    """

    low_s: float
    median_s: float
    high_s: float


def forecast(
    shop: Shop, pace: Pace, rule: Rule, drawn: random.Random, expected: Course | None = None
) -> dict[str, Forecast]:
    """The end of each batch in `shop`, whose hand times are as expected, at the pace that was measured.

    Of a large shop the `expected` course, at the mean pace, gives the ends, and drawn courses of some of its
    garments give how they spread about it; it is worked out if it is not given.
    """
    some = thinned(shop, DRAWN)
    courses = min(COURSES, max(FEWEST_COURSES, EFFORT // max(1, visits_of(some))))
    ends_s: dict[str, list[float]] = {garment.batch: [] for garment in some.garments}
    for _ in range(courses):
        for batch, end_s in _drawn_ends_s(some, draw_pace(pace, drawn), rule, drawn).items():
            ends_s[batch].append(end_s)
    scale = _scale(shop, some, pace, rule, expected)
    return {batch: _forecast_of(sorted(ends), scale.get(batch, 1.0)) for batch, ends in ends_s.items()}


def _scale(shop: Shop, some: Shop, pace: Pace, rule: Rule, expected: Course | None) -> dict[str, float]:
    """For each batch, its end in the whole shop over that in the part of it, both at the mean pace."""
    if some is shop:
        return {}
    part = at_pace(some, pace)
    of_part = _ends_s(part, course_by(part, rule))
    of_all = _ends_s(shop, expected if expected is not None else course_by(at_pace(shop, pace), rule))
    return {batch: of_all[batch] / end_s for batch, end_s in of_part.items() if end_s > 0}


def _forecast_of(ends_s: Sequence[float], scale: float) -> Forecast:
    return Forecast(*(ends_s[round(share * (len(ends_s) - 1))] * scale for share in (0.1, 0.5, 0.9)))


def _drawn_ends_s(shop: Shop, pace: DrawnPace, rule: Rule, drawn: random.Random) -> dict[str, float]:
    """When each batch is done in one course with drawn hand times."""
    garments = tuple(_drawn_garment(garment, pace, drawn) for garment in shop.garments)
    shop = replace(shop, garments=garments)
    return _ends_s(shop, course_by(shop, rule))


def _ends_s(shop: Shop, course: Course) -> dict[str, float]:
    ends_s = {garment.batch: garment.ready_s for garment in shop.garments}
    for step in course.steps:
        if step.act != Act.CHANGE:
            batch = shop.garments[step.garment].batch
            ends_s[batch] = max(ends_s[batch], step.end_s)
    return ends_s


def _drawn_garment(garment: Garment, pace: DrawnPace, drawn: random.Random) -> Garment:
    def lasts(hand: Hand, expected_s: float) -> float:
        return pace.lasts(drawn, hand, expected_s)

    visits = tuple(visit_with_hands(visit, lasts) for visit in garment.visits)
    repeats = frozenset(n for n in range(len(visits)) if drawn.random() < pace.again)
    return replace(garment, visits=visits, repeats=repeats)
