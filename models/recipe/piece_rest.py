"""How long a garment rests until one piece's carrier comes off: what is frozen with a batch, and its JSON."""

from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from models.job.job import Peel
from models.ranges import Estimate
from models.recipe.places import REST_PLACE, Place


@dataclass(frozen=True, slots=True)
class PieceRest:
    """The rest at `place` after the planned hit that brings the piece down, until it peels `until`.

    `sizes` are the garment sizes that it is about; it is about all of them where none is named.
    """

    piece: str
    until: Peel
    low_s: float
    median_s: float
    high_s: float
    sizes: tuple[str, ...] = ()
    place: Place = REST_PLACE

    @property
    def seconds(self) -> Estimate:
        return Estimate(self.low_s, self.median_s, self.high_s)

    def is_about(self, size: str) -> bool:
        return not self.sizes or size in self.sizes


def rests_at(
    rests: Iterable[PieceRest], pieces: Sequence[str], until: Peel, place: Place
) -> tuple[PieceRest, ...]:
    """Those of these pieces, at this place, until they peel so."""
    return tuple(r for r in rests if r.piece in pieces and (r.until, r.place) == (until, place))


def longest_rest(
    rests: Iterable[PieceRest], pieces: Sequence[str], until: Peel, place: Place
) -> PieceRest | None:
    """Of these pieces, the one that rests longest there; None where nothing was estimated."""
    own = rests_at(rests, pieces, until, place)
    return max(own, key=lambda rest: rest.median_s, default=None)


def piece_rest_to_json(rest: PieceRest) -> dict[str, Any]:
    return {
        **asdict(rest),
        "until": rest.until.value,
        "sizes": list(rest.sizes),
        "place": rest.place.value,
    }


def piece_rest_from_json(data: dict[str, Any]) -> PieceRest:
    """A rest that was stored before it had a place is one on the table."""
    typed = {
        "until": Peel(data["until"]),
        "sizes": tuple(data["sizes"]),
        "place": Place(data.get("place", Place.TABLE)),
    }
    return PieceRest(**{**data, **typed})
