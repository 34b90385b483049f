"""The reason of a hold or a spoiling while it is chosen, without a window; whoever decides stores it."""

from dataclasses import dataclass, replace

from floorapp.typed_text import typed


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

    def key(self, key: str) -> None:
        """Go on typing by one of the large keys."""
        self.type(typed(self.draft.typed, key, is_name=False))

    def type(self, text: str) -> None:
        """Put what was typed, by a keyboard in capitals only, in place of what stands there."""
        self.draft = replace(self.draft, typed=text.capitalize())

    def take_typed(self) -> None:
        """Choose what was typed, if anything was."""
        self.choose(self.draft.typed.strip())
