"""How long hands take: what is expected of them, what was measured, and the factor between the two."""

import random
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from enum import StrEnum
from statistics import fmean

from models.rotation.problem.shop import Shop, Visit

PRIOR = 3
"""The expected times count as much as so many measured ones."""
PRIOR_SPREAD = 0.4
"""Standard deviation of the logarithm of a hand time about what is expected of nobody in particular: our own
choice, wide on purpose."""


class Hand(StrEnum):
    """What a person's time goes into."""

    LAY = "lay"
    OFF = "off"
    FINISH = "finish"


Lasts = Callable[[Hand, float], float]
"""How many seconds this takes, where so many were expected."""


@dataclass(frozen=True, slots=True)
class HandTime:
    """One act of hands: what it was expected to take, and what it took, in s."""

    hand: Hand
    expected_s: float
    took_s: float

    @property
    def ratio(self) -> float:
        return self.took_s / self.expected_s


@dataclass(frozen=True, slots=True)
class Pace:
    """Measured over expected times, for each kind of hand work; `again` of `hits` took another one."""

    lay: tuple[float, ...] = ()
    off: tuple[float, ...] = ()
    finish: tuple[float, ...] = ()
    again: int = 0
    hits: int = 0

    def ratios(self, hand: Hand) -> tuple[float, ...]:
        return {Hand.LAY: self.lay, Hand.OFF: self.off, Hand.FINISH: self.finish}[hand]

    def factor(self, hand: Hand) -> float:
        """What an expected time is multiplied by; it moves from 1 to the measured mean as n grows."""
        return fmean((*self.ratios(hand), *(1.0 for _ in range(PRIOR))))


def pace_of(times: Iterable[HandTime], again: int = 0, hits: int = 0) -> Pace:
    """The pace that these times show; those of which nothing was expected tell nothing."""
    of_hand: dict[Hand, list[float]] = {hand: [] for hand in Hand}
    for time in times:
        if time.expected_s > 0:
            of_hand[time.hand].append(time.ratio)
    lay, off, finish = (tuple(of_hand[hand]) for hand in Hand)
    return Pace(lay, off, finish, again, hits)


def at_pace(shop: Shop, pace: Pace) -> Shop:
    """The shop as it goes at this pace in the mean."""
    by = {hand: pace.factor(hand) for hand in Hand}
    return with_hands(shop, lambda hand, expected_s: expected_s * by[hand])


def with_hands(shop: Shop, lasts: Lasts) -> Shop:
    """The shop with every hand time made anew from what was expected, each visit once."""
    made: dict[int, Visit] = {}

    def remade(visit: Visit) -> Visit:
        if id(visit) not in made:  # garments of one size share their visits
            made[id(visit)] = visit_with_hands(visit, lasts)
        return made[id(visit)]

    garments = (replace(g, visits=tuple(remade(visit) for visit in g.visits)) for g in shop.garments)
    return replace(shop, garments=tuple(garments))


def visit_with_hands(visit: Visit, lasts: Lasts) -> Visit:
    """The visit with its hand times made anew from what was expected."""
    return replace(
        visit,
        lay_s=lasts(Hand.LAY, visit.lay_s),
        off_s=lasts(Hand.OFF, visit.off_s),
        finish_s=lasts(Hand.FINISH, visit.finish_s),
    )


@dataclass(frozen=True, slots=True)
class DrawnPace:
    """One pace that the floor may truly have: for each kind of hand work, ratios to draw from."""

    pools: dict[Hand, tuple[tuple[float, ...], tuple[float, ...]]]  # the ratios, and their summed weights
    again: float

    def lasts(self, drawn: random.Random, hand: Hand, expected_s: float) -> float:
        ratios, weights = self.pools[hand]
        return expected_s * drawn.choices(ratios, cum_weights=weights)[0]


def draw_pace(pace: Pace, drawn: random.Random) -> DrawnPace:
    """A pace drawn by the Bayesian bootstrap (D. B. Rubin, Annals of Statistics 9, 1981, 130-134).

    Each measured ratio gets a random weight; PRIOR ratios of nobody in particular stand among them, so that
    few measurements leave the wide range that they should.
    """
    pools = {hand: _pool(pace.ratios(hand), drawn) for hand in Hand}
    again = drawn.betavariate(pace.again + 0.5, pace.hits - pace.again + 9.5)
    return DrawnPace(pools, again)


def _pool(measured: tuple[float, ...], drawn: random.Random) -> tuple[tuple[float, ...], tuple[float, ...]]:
    ratios = (*measured, *(drawn.lognormvariate(0.0, PRIOR_SPREAD) for _ in range(PRIOR)))
    weights, total = [], 0.0
    for _ in ratios:
        total += drawn.expovariate(1.0)
        weights.append(total)
    return ratios, tuple(weights)
