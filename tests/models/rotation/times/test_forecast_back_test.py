"""The forecast against the true end of played batches, whose hands nobody knew before.

One press or two, mostly one person, at times two.
"""

import random
from dataclasses import dataclass

from models.rotation.problem.shop import Shop
from models.rotation.times.forecast import forecast
from models.rotation.times.pace import Hand, pace_of
from tests.random_shops import batch
from tests.reference.played_floor import PlayedFloor

BATCHES = 50
BEGUN = 0.3
"""The share of all hits that are done when it is asked."""


@dataclass(frozen=True)
class Truth:
    """How fast the floor really is at each kind of hand work, and how often a hit is pressed again."""

    seed: int
    pace: dict[Hand, float]
    again: float

    def floor(self, shop: Shop) -> PlayedFloor:
        dice = random.Random(self.seed)

        def lasts(hand: Hand, expected_s: float) -> float:
            return expected_s * self.pace[hand] * dice.lognormvariate(-0.03, 0.25)

        return PlayedFloor(shop, lasts, lambda: dice.random() < self.again, effort=1)


def truth(seed: int) -> Truth:
    """Each kind of hands is some third quicker or slower than expected; up to a tenth is pressed again."""
    dice = random.Random(seed)
    pace = {hand: dice.lognormvariate(0, 0.3) for hand in Hand}
    return Truth(seed, pace, dice.choice([0.0, 0.02, 0.05, 0.1]))


def place_of_true_end(seed: int) -> str:
    """Whether the true end is before, within or after the range that was told with BEGUN of the hits done."""
    shop = batch(seed, fewest=6, most=14, presses=1 + seed % 2, people=1 + (seed % 5 == 0))
    floor = truth(seed + 1_000).floor(shop)
    wanted = BEGUN * sum(len(garment.visits) for garment in shop.garments)
    floor.play(until=lambda floor: floor.hits_done >= wanted)
    pace = pace_of(floor.seen, floor.again, floor.hits_done)
    (told,) = forecast(floor.shop_now(), pace, floor.rule[0], random.Random(seed)).values()
    left_s = -floor.now_s + floor.play().end_s
    if left_s < told.low_s:
        return "before"
    return "within" if left_s <= told.high_s else "after"


def test_eight_of_ten_batches_end_within_the_range_that_was_told():
    places = [place_of_true_end(seed) for seed in range(BATCHES)]
    assert 0.7 <= places.count("within") / BATCHES <= 0.9
    assert places.count("before") > 0
    assert places.count("after") > 0
