"""What is being told on the Finding screen; nothing of it is stored before it is decided."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from models.errors import UntoldFindingError
from models.garment.events import FindingKind, Found


@dataclass(frozen=True, slots=True)
class FindingDraft:
    """What was found on which pieces, as far as it has been told; the map shows `side`."""

    kind: FindingKind | None = None
    pieces: frozenset[str] = frozenset()
    side: str = ""
    seconds: int | None = None  # to press again; None for each material's least

    @property
    def found(self) -> Found | None:
        """Return the finding; None as long as its kind or its pieces are missing."""
        if self.kind is None or not self.pieces:
            return None
        return Found(self.kind, tuple(sorted(self.pieces)))

    @property
    def told(self) -> Found:
        """Return the finding. Raises UntoldFindingError if its kind or its pieces are missing."""
        found = self.found
        if found is None:
            raise UntoldFindingError(
                "choose what was found, and tap the piece on the map, before you mend it"
            )
        return found

    def of_kind(self, kind: FindingKind) -> "FindingDraft":
        return replace(self, kind=kind)

    def marked(self, piece: str) -> "FindingDraft":
        """With the piece marked, or no longer marked; the seconds are each material's least again."""
        return replace(self, pieces=self.pieces ^ {piece}, seconds=None)

    def for_seconds(self, seconds: int) -> "FindingDraft":
        return replace(self, seconds=seconds)

    def turned(self, sides: Sequence[str]) -> "FindingDraft":
        """With the next side on the map."""
        return replace(self, side=sides[(sides.index(self.side) + 1) % len(sides)])
