"""The reason of a hold or a spoiling while it is chosen, without a window; whoever decides stores it."""

from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class ReasonDraft:
    """What is asked about: a hold, or a spoiling. `suggested` is what the garment's own story offers.

    A spoiling cannot be taken for a slip of the finger: nothing is chosen before somebody chooses it.
    """

    is_spoiling: bool = False
    suggested: str = ""
    typed: str = ""
    chosen: str = ""


class ReasonFlow:
    """`draft` lasts as long as its screens are shown."""

    def __init__(self) -> None:
        self.draft = ReasonDraft()

    def ask_hold(self, suggested: str) -> None:
        """A finding that was told is its reason, unless another is chosen."""
        self.draft = ReasonDraft(suggested=suggested, chosen=suggested)

    def ask_spoiling(self, suggested: str) -> None:
        self.draft = ReasonDraft(is_spoiling=True, suggested=suggested)

    def choose(self, reason: str) -> None:
        self.draft = replace(self.draft, chosen=reason)

    def forget(self) -> None:
        self.draft = ReasonDraft()
