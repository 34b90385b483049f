"""The finding that is being told, without a window: marked and changed here, stored by whoever decides."""

from floorapp.finding_draft import FindingDraft
from models.floor.work import FloorWork
from models.garment.events import FindingKind
from models.store.records import StoredGarment


class FindingFlow:
    """`draft` lasts as long as its screen is shown."""

    def __init__(self, work: FloorWork) -> None:
        self.work = work
        self.draft = FindingDraft()

    def begin(self, garment: StoredGarment, piece: str) -> None:
        """With that piece marked, or none where it is empty, and the side of the hit in hand on the map."""
        pieces = frozenset({piece} if piece else ())
        self.draft = FindingDraft(pieces=pieces, side=garment.progress.hit.side)

    def forget(self) -> None:
        self.draft = FindingDraft()

    def choose_kind(self, kind: str) -> None:
        self.draft = self.draft.of_kind(FindingKind(kind))

    def mark(self, piece: str) -> None:
        self.draft = self.draft.marked(piece)

    def choose_seconds(self, seconds: str) -> None:
        self.draft = self.draft.for_seconds(int(seconds))

    def turn_map(self, garment: StoredGarment) -> None:
        """Shows the next side."""
        self.draft = self.draft.turned([side.name for side in garment.progress.recipe.job.sides])

    # What is decided; each stores one tap. Raises what FloorWork's own actions raise.

    def press_again(self, garment: StoredGarment) -> StoredGarment:
        return self.work.press_again(garment, self.draft.found, self.draft.seconds)

    def replace(self, garment: StoredGarment) -> StoredGarment:
        return self.work.replace_pieces(garment, self.draft.found)

    def accept(self, garment: StoredGarment) -> StoredGarment:
        return self.work.accept(garment, self.draft.found)

    def hold(self, garment: StoredGarment, reason: str) -> StoredGarment:
        return self.work.hold(garment, reason, self.draft.found if self.draft.pieces else None)

    def spoil(self, garment: StoredGarment, reason: str) -> StoredGarment:
        return self.work.spoil(garment, reason, self.draft.found if self.draft.pieces else None)
