"""A press holds one garment: which one is in the way of a closing."""

from models.errors import PressInUseError
from models.store.records import GarmentRow, StoredGarment
from models.store.store import Store
from models.tags.code import spoken


def refuse_second(store: Store, station: str, garment: StoredGarment) -> None:
    """Raise PressInUseError if this station has another garment under the press of the hit in hand.

    A press without a name is the one press of its job.
    """
    press = garment.progress.hit.press
    for row in store.pressing(station):
        is_other = row.code != garment.row.code
        if is_other and store.garment(row.code).progress.hit.press == press:
            raise PressInUseError(
                f"{press or 'the press'} holds {_named(row)}; open it, and say so there, before "
                f"{_named(garment.row)} is pressed",
                row.code,
            )


def _named(row: GarmentRow) -> str:
    """Number, wearer and code, as far as the garment has them."""
    number = f"No {row.number}" if row.number else ""
    return " ".join(word for word in (number, row.wearer, spoken(row.code)) if word)
