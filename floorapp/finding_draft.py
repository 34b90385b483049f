"""What is being told on the Finding screen; nothing of it is stored before it is decided."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from models.garment.events import FindingKind, Found


@dataclass(frozen=True, slots=True)
class FindingDraft:
    """What was found on which pieces; the map shows `side`."""

    kind: FindingKind = FindingKind.LIFT
    pieces: frozenset[str] = frozenset()
    side: str = ""
    seconds: int | None = None  # to press again; None for each material's least

    @property
    def found(self) -> Found:
        return Found(self.kind, tuple(sorted(self.pieces)))

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
