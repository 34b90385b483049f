"""What is wrong with the station itself: each is told once, and stands until it is tapped away."""

from collections import deque

from floorapp.views import Action, Button, NoticeView, Tap, Tone


class StandingNotices:
    """A refusal of a tap goes with the next tap; these come back after it."""

    def __init__(self) -> None:
        self._told: set[str] = set()
        self._stand: deque[str] = deque()

    @property
    def first(self) -> NoticeView | None:
        if not self._stand:
            return None
        text = self._stand[0]
        return NoticeView(text, Tone.ATTENTION, Button("OK", Action(Tap.DISMISS, text)))

    def tell(self, text: str) -> None:
        """Add a line, unless it has been told already."""
        if text not in self._told:
            self._told.add(text)
            self._stand.append(text)

    def withdraw(self, text: str) -> None:
        """It is not so any more; if it is so again, it is told again."""
        self._told.discard(text)
        self.dismiss(text)

    def dismiss(self, text: str) -> None:
        """Take a line away; one that does not stand changes nothing."""
        if text in self._stand:
            self._stand.remove(text)
