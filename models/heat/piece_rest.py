"""How long a garment rests until one piece's carrier comes off: what is frozen with a batch, and its JSON."""

from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from models.heat.ranges import Estimate
from models.job.job import Peel


@dataclass(frozen=True, slots=True)
class PieceRest:
    """The rest after the planned hit that brings the piece down, until it peels `until`, warm or cold.

    `sizes` are the garment sizes that it is about; it is about all of them where none is named.
    """

    piece: str
    until: Peel
    low_s: float
    median_s: float
    high_s: float
    sizes: tuple[str, ...] = ()

    @property
    def seconds(self) -> Estimate:
        return Estimate(self.low_s, self.median_s, self.high_s)

    def is_about(self, size: str) -> bool:
        return not self.sizes or size in self.sizes


def longest_rest(rests: Iterable[PieceRest], pieces: Sequence[str], until: Peel) -> PieceRest | None:
    """Of these pieces, the one that rests longest until it peels so; None where nothing was estimated."""
    own = (rest for rest in rests if rest.piece in pieces and rest.until == until)
    return max(own, key=lambda rest: rest.median_s, default=None)


def piece_rest_to_json(rest: PieceRest) -> dict[str, Any]:
    return {**asdict(rest), "until": rest.until.value, "sizes": list(rest.sizes)}


def piece_rest_from_json(data: dict[str, Any]) -> PieceRest:
    return PieceRest(**{**data, "until": Peel(data["until"]), "sizes": tuple(data["sizes"])})
