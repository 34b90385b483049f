"""How every screen names a garment: by its wearer and the wearer's number, then size, code and batch.

"No 3" is always the wearer's number. The place in the batch is only ever told as "3 of 24".
"""

from typing import Protocol

from floorapp.views import GarmentName
from models.store.records import BatchHead, GarmentRow
from models.tags.code import spoken

NO_BREAK = "\N{NO-BREAK SPACE}"
LONGEST_BATCH_NAME = 48
"""A longer name of a batch ends in "…": its reference before it tells batches apart."""


class Named(Protocol):
    """What a garment is named by."""

    @property
    def code(self) -> str: ...
    @property
    def size(self) -> str: ...
    @property
    def wearer(self) -> str: ...
    @property
    def number(self) -> str: ...


def numbered(number: str) -> str:
    """Return the wearer's number as every screen tells it; empty if there is none."""
    return f"No {number}" if number else ""


def wearer_words(garment: Named) -> str:
    """Return number and wearer, as `No 7 Ndiaye`; empty if the garment has neither."""
    return " ".join(word for word in (numbered(garment.number), garment.wearer) if word)


def tag_words(garment: Named) -> str:
    """Return size and code, as `size S · 9NEN KXEC`; no line ends within the code."""
    code = spoken(garment.code).replace(" ", NO_BREAK)
    return f"size {garment.size} · {code}"


def called_words(garment: Named) -> str:
    """Return what a garment is called by: number and wearer, or size and code if it has neither."""
    return wearer_words(garment) or tag_words(garment)


def words_in_a_row(garment: Named) -> str:
    """Return number, wearer, size and code in one line of a list."""
    return " · ".join(word for word in (wearer_words(garment), tag_words(garment)) if word)


def place_words(row: GarmentRow, of: int) -> str:
    """Return the garment's place in its batch, which is not parted at the end of a line."""
    return f"{row.n} of {of}".replace(" ", NO_BREAK)


def name_of(row: GarmentRow, batch: BatchHead) -> GarmentName:
    """Return the garment's name for the head of its screens."""
    place = place_words(row, batch.garments)
    short = batch.name[:LONGEST_BATCH_NAME]
    name = short if short == batch.name else f"{short.rstrip()}…"
    return GarmentName(
        number=numbered(row.number),
        wearer=row.wearer or ("" if row.number else tag_words(row)),
        tag=f"{tag_words(row)} · {place}" if row.wearer or row.number else place,
        batch=f"{batch.reference} · {name}",
    )
