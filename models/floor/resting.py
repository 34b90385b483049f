"""How long a garment rests: as was estimated when its batch was loaded, or as the floor has shown since."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import ceil

from models.garment.progress import Recipe
from models.heat.learned import Belief, RestKey, learned_rest
from models.heat.piece_rest import PieceRest
from models.heat.places import REST_PLACE
from models.heat.ranges import Estimate
from models.job.job import Peel

SHORTEST_REST_ON_S = 10
"""A garment that is sent back to rest stays at least so long (common practice, no source)."""


class Basis(StrEnum):
    """What a rest was taken from."""

    HABIT = "habit"
    ESTIMATE = "estimate"
    LEARNED = "learned"


@dataclass(frozen=True, slots=True)
class Rest:
    """A rest off the press with its band, and the `n` rests of its kind that were seen on this floor."""

    band_s: Estimate
    basis: Basis
    n: int = 0

    @property
    def seconds(self) -> int:
        return round(self.band_s.median)

    @property
    def longer_s(self) -> int:
        """How much longer it rests where it was called and is still warm: to the end of the band."""
        return max(SHORTEST_REST_ON_S, ceil(self.band_s.high - self.band_s.median))


BY_HABIT = Rest(Estimate(60.0, 60.0, 90.0), Basis.HABIT)
"""For a batch whose rests were never estimated: loaded before they were (common practice, no source)."""


def cold_rest(recipe: Recipe, pieces: Sequence[str], beliefs: Mapping[RestKey, Belief]) -> Rest:
    """Until the carriers of all these pieces peel cold, whichever hit brought them down.

    After an extra hit a piece rests as after the planned hit that brings it down: its stack is the same, and
    no tablet beside a press has to work out heat.
    """
    own = (rest for rest in recipe.rests if rest.piece in pieces and rest.until == Peel.COLD)
    rests = (_by_what_was_seen(recipe, rest, beliefs) for rest in own)
    return max(rests, key=lambda rest: rest.band_s.median, default=BY_HABIT)


def keys_of(recipe: Recipe) -> tuple[RestKey, ...]:
    """What the rests of a recipe are learned under."""
    cold = [rest.piece for rest in recipe.rests if rest.until == Peel.COLD]
    return tuple(dict.fromkeys(_key(recipe, piece) for piece in cold))


def _by_what_was_seen(recipe: Recipe, rest: PieceRest, beliefs: Mapping[RestKey, Belief]) -> Rest:
    learned = learned_rest(rest.seconds, beliefs.get(_key(recipe, rest.piece), Belief()))
    basis = Basis.LEARNED if learned.is_learned else Basis.ESTIMATE
    return Rest(learned.seconds, basis, learned.factor.n)


def _key(recipe: Recipe, piece: str) -> RestKey:
    return RestKey(recipe.job.piece(piece).material, recipe.job.fabric.name, REST_PLACE)
