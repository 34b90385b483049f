"""When each batch will be done: a median and a range, from courses with drawn hand times."""

import random
from collections.abc import Sequence
from dataclasses import dataclass, replace

from models.rotation.course import Act, course_by
from models.rotation.pace import DrawnPace, Hand, Pace, draw_pace, visit_with_hands
from models.rotation.rule import Rule
from models.rotation.shop import Garment, Shop

COURSES = 100
EFFORT = 10_000
"""Visits gone through in all courses together: half a second of work, more for the largest floors."""
FEWEST_COURSES = 40


@dataclass(frozen=True, slots=True)
class Forecast:
    """Seconds of work until all is done: eight of ten times between `low_s` and `high_s`.

    Pauses are not in it: nobody knows when they are made.
    """

    low_s: float
    median_s: float
    high_s: float


def forecast(shop: Shop, pace: Pace, rule: Rule, drawn: random.Random) -> dict[str, Forecast]:
    """The end of each batch in `shop`, whose hand times are as expected, at the pace that was measured."""
    visits = max(1, sum(len(garment.visits) for garment in shop.garments))
    courses = min(COURSES, max(FEWEST_COURSES, EFFORT // visits))
    ends_s: dict[str, list[float]] = {garment.batch: [] for garment in shop.garments}
    for _ in range(courses):
        for batch, end_s in _drawn_ends_s(shop, draw_pace(pace, drawn), rule, drawn).items():
            ends_s[batch].append(end_s)
    return {batch: _forecast_of(sorted(ends)) for batch, ends in ends_s.items()}


def _forecast_of(ends_s: Sequence[float]) -> Forecast:
    return Forecast(*(ends_s[round(share * (len(ends_s) - 1))] for share in (0.1, 0.5, 0.9)))


def _drawn_ends_s(shop: Shop, pace: DrawnPace, rule: Rule, drawn: random.Random) -> dict[str, float]:
    """When each batch is done in one course with drawn hand times."""
    garments = tuple(_drawn_garment(garment, pace, drawn) for garment in shop.garments)
    ends_s = {garment.batch: garment.ready_s for garment in garments}
    for step in course_by(replace(shop, garments=garments), rule).steps:
        if step.act != Act.CHANGE:
            batch = garments[step.garment].batch
            ends_s[batch] = max(ends_s[batch], step.end_s)
    return ends_s


def _drawn_garment(garment: Garment, pace: DrawnPace, drawn: random.Random) -> Garment:
    def lasts(hand: Hand, expected_s: float) -> float:
        return pace.lasts(drawn, hand, expected_s)

    visits = tuple(visit_with_hands(visit, lasts) for visit in garment.visits)
    repeats = frozenset(n for n in range(len(visits)) if drawn.random() < pace.again)
    return replace(garment, visits=visits, repeats=repeats)
