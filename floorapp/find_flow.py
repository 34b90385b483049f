"""Finding a garment without a window: what was typed, and what fits it, asked off the screen's thread."""

from collections.abc import Callable
from functools import partial

from floorapp.background import Background
from floorapp.typed_text import typed
from models.errors import FloorError
from models.store.finding import Found
from models.store.store import Store

MOST = 40
"""Rows that the screen lists; whoever sees more of them types one more letter."""


class FindFlow:
    """`text` is what was typed; `found` is what fits it, None until the store has answered."""

    def __init__(self, store: Store, at_store: Background, refused: Callable[[FloorError], None]) -> None:
        self.text = ""
        self.found: Found | None = None
        self.changed: Callable[[], None] = lambda: None
        self._store, self._at_store, self._refused = store, at_store, refused

    def begin(self) -> None:
        """Begin anew, with all batches listed."""
        self.type("")

    def key(self, key: str) -> None:
        """Go on by one of the screen's own keys."""
        self.type(typed(self.text, key, is_name=False))

    def type(self, text: str) -> None:
        """Look for what was typed; an answer to what stood there before is not shown any more."""
        self.text = text
        self._at_store.run(lambda: self._store.find(text, MOST), partial(self._answered, text), self._refused)

    def _answered(self, text: str, found: Found) -> None:
        if text == self.text:
            self.found = found
            self.changed()
