"""The finding that is being told, without a window: marked and changed here, stored by whoever decides."""

from dataclasses import replace

from floorapp.finding_draft import FindingDraft
from models.errors import NoExtraHitError
from models.floor.mending import repressing, seconds_again
from models.floor.work import FloorWork
from models.garment.events import FindingKind
from models.garment.progress import Progress
from models.planning.rework.incident import Mending
from models.store.records import StoredGarment

Asked = tuple[Progress, FindingDraft]


class FindingFlow:
    """`draft` lasts as long as its screen is shown."""

    def __init__(self, work: FloorWork) -> None:
        self.work = work
        self.draft = FindingDraft()
        self._answered: tuple[Asked, Mending | NoExtraHitError] | None = None

    @property
    def is_begun(self) -> bool:
        """Return whether a finding is being told, whatever of it has been told yet."""
        return bool(self.draft.side)

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

    def repressing(self, progress: Progress) -> Mending:
        """What pressing the marked pieces again would be, sought once however often the screen is drawn.

        Raises NoExtraHitError with the limit that is in the way.
        """
        asked = (progress, replace(self.draft, side=""))  # the side shown decides nothing
        if self._answered is None or self._answered[0] != asked:
            self._answered = (asked, self._sought(progress))
        answer = self._answered[1]
        if isinstance(answer, NoExtraHitError):
            raise answer
        return answer

    def _sought(self, progress: Progress) -> Mending | NoExtraHitError:
        lifted_s = seconds_again(progress.recipe.job, self.draft.pieces, self.draft.seconds)
        try:
            return repressing(progress, lifted_s)
        except NoExtraHitError as none:
            return none

    # What is decided; each stores one tap. Raises what FloorWork's own actions raise.

    def press_again(self, garment: StoredGarment) -> StoredGarment:
        return self.work.press_again(garment, self.draft.told, self.draft.seconds)

    def replace(self, garment: StoredGarment) -> StoredGarment:
        return self.work.replace_pieces(garment, self.draft.told)

    def accept(self, garment: StoredGarment) -> StoredGarment:
        return self.work.accept(garment, self.draft.told)

    def hold(self, garment: StoredGarment, reason: str) -> StoredGarment:
        return self.work.hold(garment, reason, self.draft.found)

    def spoil(self, garment: StoredGarment, reason: str) -> StoredGarment:
        return self.work.spoil(garment, reason, self.draft.found)
