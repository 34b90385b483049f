"""Where garments rest at this station, as the environment variable FLOORAPP_RESTS says it."""

from models.errors import DataError
from models.recipe.places import FLOOR_PLACES, REST_PLACE, Place

WORDS = {"table": Place.TABLE, "hung": Place.HUNG, "press": Place.PRESS}


class BadRestSettingError(DataError):
    """The setting names no place where a station can rest its garments."""


def rest_place(word: str) -> Place:
    """The place that `word` stands for; the table where it is left out. Raises BadRestSettingError."""
    place = WORDS.get(word, None if word else REST_PLACE)
    if place == Place.PRESS:
        raise BadRestSettingError(
            "FLOORAPP_RESTS=press: a garment that rests on the press keeps the next one waiting; "
            "write table or hung"
        )
    if place not in FLOOR_PLACES:
        raise BadRestSettingError(f'FLOORAPP_RESTS: no garment can rest at "{word}"; write table or hung')
    return place
