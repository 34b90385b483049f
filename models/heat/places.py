"""Where a garment rests."""

from enum import StrEnum


class Place(StrEnum):
    HUNG = "hung"
    TABLE = "on a table"
    PRESS = "left on the press"


REST_PLACE = Place.TABLE
"""Where the screens say to put it."""
