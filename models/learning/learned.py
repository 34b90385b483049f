"""What the floor teaches about rests: a factor on the estimate, for a material, fabric, place and peel.

The logarithm of observed / estimated seconds is taken as normal with unknown mean and variance. Their joint
belief is normal-inverse-gamma, which observations update in closed form: the conjugate prior of the normal
(A. Gelman et al., Bayesian Data Analysis, 3rd edition, section 3.3, there written with the scaled inverse
chi-squared, which is the same). Before any observation the factor is 1, known within some 30 %, and single
garments scatter by some 20 % about it: our own choice, wide on purpose.

One garment left overnight, or one slip of a finger, is no rest of this kind. So what lies outside the
belief's plausible range counts as if it lay at the range's end; P. J. Huber, Robust Statistics, calls it
winsorizing. A single contradiction weighs as one, and many still move the belief. A lift after a rest longer
than plausible is not the rest's doing, and tells nothing.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from statistics import NormalDist

from models.errors import CalculationError
from models.job.job import Peel
from models.ranges import Estimate
from models.recipe.places import Place

FEWEST = 3
"""So many observations before a factor is used at all."""
SCATTER = 0.2
"""Standard deviation of single garments about the factor, before any observation (our own choice)."""
PLAUSIBLE = 2.0
"""The plausible range reaches so many standard deviations to each side (our own choice)."""
TEN_TO_NINETY = 2 * NormalDist().inv_cdf(0.9)
"""Standard deviations between the ends of a band that holds eight of ten."""


class Told(StrEnum):
    """What an observed rest says of the time that was truly needed."""

    READY = "ready"  # called ready by hand: it was needed just so long
    BETWEEN = "between"  # warm to the hand before it and cold after it: about so long was needed
    WELL = "well"  # peeled then, and nothing lifted: no longer was needed
    LIFTED = "lifted"  # peeled then, and it lifted: longer was needed


@dataclass(frozen=True, slots=True)
class RestKey:
    """What a rest depends on, besides what the estimate knows already."""

    material: str
    fabric: str
    place: Place
    until: Peel = Peel.COLD


@dataclass(frozen=True, slots=True)
class RestObservation:
    """One garment's rest, up to what was told of it `at` its end, beside its estimate.

    Until cold or warm, it is counted from the opening of the press.

    Raises:
        CalculationError: one of the two times is not above 0.
    """

    key: RestKey
    estimate_s: float
    rested_s: float
    told: Told
    at: datetime

    def __post_init__(self) -> None:
        if self.estimate_s <= 0 or self.rested_s <= 0:
            raise CalculationError("a rest is observed where both its times are above 0")

    @property
    def log_ratio(self) -> float:
        return math.log(self.rested_s / self.estimate_s)


@dataclass(frozen=True, slots=True)
class Belief:
    """A normal-inverse-gamma belief about the log ratio, and the `n` observations that have shaped it."""

    mean: float = 0.0
    weight: float = 0.45  # of the mean, in observations: a scatter of 20 % over 0.45 of them is some 30 %
    shape: float = 3.0
    scale: float = 2 * SCATTER**2  # over shape - 1: the variance of single garments
    n: int = 0

    def after(self, log_ratio: float) -> "Belief":
        """The belief after one more observation, in closed form."""
        weight = self.weight + 1
        off = log_ratio - self.mean
        return Belief(
            mean=self.mean + off / weight,
            weight=weight,
            shape=self.shape + 0.5,
            scale=self.scale + self.weight * off * off / weight / 2,
            n=self.n + 1,
        )

    @property
    def scatter(self) -> float:
        """Expected standard deviation of single garments about the mean."""
        return math.sqrt(self.scale / (self.shape - 1))

    @property
    def doubt(self) -> float:
        """Standard deviation of the mean itself."""
        return self.scatter / math.sqrt(self.weight)

    @property
    def spread(self) -> float:
        """Standard deviation of the next single garment, doubt and scatter together."""
        return math.hypot(self.doubt, self.scatter)

    @property
    def reach(self) -> float:
        """How far from the mean a garment plausibly lies. However alike those before it were, single garments
        may scatter as they were taken to at first: another season has to be learned as well.
        """
        return PLAUSIBLE * max(self.spread, SCATTER)


@dataclass(frozen=True, slots=True)
class Factor:
    """What an estimate is multiplied by, with the range that holds it in eight of ten cases, and its n."""

    median: float
    low: float
    high: float
    n: int


@dataclass(frozen=True, slots=True)
class LearnedRest:
    """The rest to go by. `is_learned` where the observations count for more than the estimate."""

    seconds: Estimate
    is_learned: bool
    factor: Factor


def learn(belief: Belief, seen: RestObservation) -> Belief:
    """The belief after one more rest.

    A rest called ready, or known from both sides, counts as it is. One that only bounds the time needed
    counts, as if it had been just that, where it contradicts the belief; where it agrees, nothing is learned:
    a garment that lay long and peeled well tells nothing. No rest counts for more than a plausible one.
    """
    off = seen.log_ratio - belief.mean
    teaches = {
        Told.READY: True,
        Told.BETWEEN: True,
        Told.WELL: off < 0,
        Told.LIFTED: 0 < off <= belief.reach,
    }
    if not teaches[seen.told]:
        return belief
    return belief.after(belief.mean + min(max(off, -belief.reach), belief.reach))


def beliefs_from(observations: Iterable[RestObservation]) -> dict[RestKey, Belief]:
    """The belief for each kind of rest, from rests in the order in which they were seen."""
    beliefs: dict[RestKey, Belief] = {}
    for seen in observations:
        beliefs[seen.key] = learn(beliefs.get(seen.key, Belief()), seen)
    return beliefs


def factor_of(belief: Belief) -> Factor:
    reach = belief.doubt * TEN_TO_NINETY / 2
    low, median, high = (math.exp(belief.mean + by) for by in (-reach, 0.0, reach))
    return Factor(median, low, high, belief.n)


def learned_rest(estimate: Estimate, belief: Belief) -> LearnedRest:
    """The rest by what the floor has shown, once that is worth more than the estimate; else the estimate.

    Worth more: at least FEWEST observations, and single garments are foretold more closely, doubt and
    scatter together, than the estimate's own band.
    """
    is_learned = belief.n >= FEWEST and belief.spread < _spread_of(estimate)
    seconds = _scaled(estimate.median, belief.mean, belief.spread) if is_learned else estimate
    return LearnedRest(seconds, is_learned, factor_of(belief))


def _spread_of(estimate: Estimate) -> float:
    """Standard deviation of the logarithm that the estimate's band stands for; 0 where there is no rest."""
    if estimate.low <= 0:
        return 0.0
    return math.log(estimate.high / estimate.low) / TEN_TO_NINETY


def _scaled(median_s: float, mean: float, spread: float) -> Estimate:
    reach = spread * TEN_TO_NINETY / 2
    return Estimate(*(median_s * math.exp(mean + by) for by in (-reach, 0.0, reach)))
