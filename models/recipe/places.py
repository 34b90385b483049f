"""Where a garment rests."""

from enum import StrEnum


class Place(StrEnum):
    HUNG = "hung"
    TABLE = "on a table"
    PRESS = "left on the press"


REST_PLACE = Place.TABLE
"""Where garments rest unless a station says otherwise."""
FLOOR_PLACES = (Place.TABLE, Place.HUNG)
"""Where a station may rest them. On the press a garment would keep the next one waiting, and rotation takes
the press as free: of that place it is only told how long cooling would take.
"""
