"""How long a garment rests, or waits until it is warm: as was estimated when its batch was loaded, or as the
floor has shown since.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import ceil

from models.garment.progress import Recipe
from models.job.job import Peel
from models.learning.learned import Belief, Factor, RestKey, learned_rest
from models.plan.plan import Hit
from models.ranges import Estimate
from models.recipe.piece_rest import PieceRest, rests_at
from models.recipe.places import Place
from models.rotation.times.expected import Waits

SHORTEST_REST_ON_S = 10
"""A garment that is sent back to rest stays at least so long (common practice, no source)."""


class Basis(StrEnum):
    """What a rest was taken from."""

    HABIT = "habit"
    ESTIMATE = "estimate"
    LEARNED = "learned"


@dataclass(frozen=True, slots=True)
class Rest:
    """A rest at `place`, from the opening of the press, with its band.

    `n` rests of its kind were seen on this floor. `factor` is what they make of the estimate,
    None where there is none.
    """

    place: Place
    band_s: Estimate
    basis: Basis
    n: int = 0
    factor: Factor | None = None

    @property
    def seconds(self) -> int:
        return round(self.band_s.median)

    @property
    def longer_s(self) -> int:
        """How much longer it rests where it was called and is still warm: to the end of the band."""
        return max(SHORTEST_REST_ON_S, ceil(self.band_s.high - self.band_s.median))


BY_HABIT_S = Estimate(60.0, 60.0, 90.0)
"""For a batch whose rests at the place were never estimated: loaded before (common practice, no source)."""


def cold_rest(recipe: Recipe, pieces: Sequence[str], beliefs: Mapping[RestKey, Belief], place: Place) -> Rest:
    """From the opening until the carriers of all these pieces peel cold there, whichever hit brought them
    down.

    After an extra hit a piece rests as after the planned hit that brings it down: its stack is the same, and
    no tablet beside a press has to work out heat.
    """
    return _longest(recipe, pieces, beliefs, Peel.COLD, place) or Rest(place, BY_HABIT_S, Basis.HABIT)


def warm_wait(
    recipe: Recipe, pieces: Sequence[str], beliefs: Mapping[RestKey, Belief], place: Place
) -> Rest | None:
    """From the opening until the carriers of all these pieces peel warm; None where it was not estimated."""
    return _longest(recipe, pieces, beliefs, Peel.WARM, place)


def waits_at(place: Place, recipe: Recipe, hit: Hit, beliefs: Mapping[RestKey, Belief]) -> Waits:
    """What a garment waits after this hit, at that place; a wait that was not estimated is none."""
    warm, cold = ([step.piece for step in hit.peel if step.when == peel] for peel in (Peel.WARM, Peel.COLD))
    waits = warm_wait(recipe, warm, beliefs, place)
    rests = cold_rest(recipe, cold, beliefs, place) if cold else None
    return Waits(*(rest.band_s.median if rest is not None else 0.0 for rest in (waits, rests)))


def keys_of(recipe: Recipe, places: Collection[Place]) -> tuple[RestKey, ...]:
    """What the rests of a recipe at these places are learned under."""
    return tuple(dict.fromkeys(_key(recipe, rest) for rest in recipe.rests if rest.place in places))


def _longest(
    recipe: Recipe, pieces: Sequence[str], beliefs: Mapping[RestKey, Belief], until: Peel, place: Place
) -> Rest | None:
    own = rests_at(recipe.rests, pieces, until, place)
    rests = (_by_what_was_seen(recipe, rest, beliefs) for rest in own)
    return max(rests, key=lambda rest: rest.band_s.median, default=None)


def _by_what_was_seen(recipe: Recipe, rest: PieceRest, beliefs: Mapping[RestKey, Belief]) -> Rest:
    learned = learned_rest(rest.seconds, beliefs.get(_key(recipe, rest), Belief()))
    basis = Basis.LEARNED if learned.is_learned else Basis.ESTIMATE
    return Rest(rest.place, learned.seconds, basis, learned.factor.n, learned.factor)


def _key(recipe: Recipe, rest: PieceRest) -> RestKey:
    return RestKey(recipe.job.piece(rest.piece).material, recipe.job.fabric.name, rest.place, rest.until)
