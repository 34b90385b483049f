"""What is said of a garment that was made again, or taken out of its batch."""

from collections.abc import Iterator
from typing import Protocol

from models.tags.code import spoken


class Remedied(Protocol):
    """A garment's row in the store, or its line in a review."""

    @property
    def remake_of(self) -> str: ...
    @property
    def remade_as(self) -> str: ...
    @property
    def taken_out(self) -> str: ...


def remedy_words(garment: Remedied) -> Iterator[str]:
    """Yield what was done about the garment, in a few words each; nothing for most."""
    if garment.taken_out:
        yield f"taken out: {garment.taken_out}"
    if garment.remade_as:
        yield f"made again as {spoken(garment.remade_as)}"
    if garment.remake_of:
        yield f"made again for {spoken(garment.remake_of)}"
