"""The review of a batch without a window: counted, and its list written, off the screen's thread."""

from collections.abc import Callable
from functools import partial
from pathlib import Path

from floorapp.background import Background
from floorapp.views import NoticeView, Tone
from models.errors import FloorError
from models.floor.work import FloorWork
from models.garment.cycle import State
from models.quality.review import Review
from models.store.records import BatchHead


class ReviewFlow:
    """The batch under review; `review` is None while its logs are still being counted.

    `tell` puts a notice on the screen that is shown when long work ends.
    """

    def __init__(self, work: FloorWork, background: Background, tell: Callable[[NoticeView], None]) -> None:
        self.work = work
        self.background = background
        self.head: BatchHead | None = None
        self.review: Review | None = None
        self.state: State | None = None
        self.changed: Callable[[], None] = lambda: None
        self._tell = tell

    def open(self, head: BatchHead) -> None:
        """Count the batch in the background."""
        self.head, self.review, self.state = head, None, None
        self.background.run(lambda: self.work.review(head), partial(self._counted, head), self._refused)

    def show_only(self, state: str) -> None:
        """Garments in this state, or all of them where it is empty."""
        self.state = State(state) if state else None

    def write(self, write_list: Callable[[], Path]) -> None:
        """Writes the list of garments, which reads the batch's whole log."""
        self._tell(NoticeView("Writing the list …", Tone.PLAIN))
        self.background.run(write_list, self._written, self._refused)

    def _counted(self, head: BatchHead, review: Review) -> None:
        if self.head == head:  # another batch may have been opened meanwhile
            self.review = review
            self.changed()

    def _written(self, path: Path) -> None:
        self._tell(NoticeView(f"Written: {path}", Tone.DONE))

    def _refused(self, error: FloorError) -> None:
        self._tell(NoticeView(str(error), Tone.ATTENTION))
