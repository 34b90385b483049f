"""A station's settings, as the environment says them: its name and its person stand on every event.

A name that the database cannot store is refused before the app opens, not at the first tap.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from floorapp.rest_setting import rest_place
from models.errors import DataError
from models.plain_text import composed, is_one_line
from models.recipe.places import Place

LONGEST = 60
UNNAMED = "station"


class BadNameError(DataError):
    """The name of a station or person cannot stand on an event."""


@dataclass(frozen=True, slots=True)
class SeatSetting:
    """What the environment says of a station, judged before anything is opened."""

    station: str
    person: str
    rests: Place


def seat_setting(environ: Mapping[str, str], host: str) -> SeatSetting:
    """Return the settings of this station. Raises BadNameError or BadRestSettingError."""
    rests = rest_place(environ.get("FLOORAPP_RESTS", ""))
    return SeatSetting(station_name(environ, host), person_name(environ), rests)


def station_name(environ: Mapping[str, str], host: str) -> str:
    """Return FLOORAPP_STATION, or the computer's name where it is left out.

    The computer's name is nobody's setting: what cannot be stored of it is left out.

    Raises:
        BadNameError: FLOORAPP_STATION is too long or holds what cannot be stored.
    """
    return _sound("FLOORAPP_STATION", environ) or _cleaned(host)


def person_name(environ: Mapping[str, str]) -> str:
    """Return FLOORAPP_PERSON, empty where it is left out.

    Raises:
        BadNameError: FLOORAPP_PERSON is too long or holds what cannot be stored.
    """
    return _sound("FLOORAPP_PERSON", environ)


def _sound(variable: str, environ: Mapping[str, str]) -> str:
    name = composed(environ.get(variable, "").strip())
    if any("\ud800" <= character <= "\udfff" for character in name):
        raise BadNameError(f"{variable}: the name is not UTF-8 text; set it anew in letters, like Press 2")
    if not is_one_line(name):
        raise BadNameError(
            f"{variable}: the name has signs that cannot be printed; set it anew, like Press 2"
        )
    if len(name) > LONGEST:
        raise BadNameError(f"{variable}: the name has {len(name)} characters; write {LONGEST} at the most")
    return name


def _cleaned(host: str) -> str:
    return "".join(character for character in host if character.isprintable())[:LONGEST].strip() or UNNAMED
