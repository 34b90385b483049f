"""Checksums of stored records: what has changed on the disk since it was written is found when it is read."""

import json
from datetime import date, datetime
from hashlib import blake2b
from typing import Any
from uuid import UUID

DIGEST_BYTES = 16
"""Chance does not find two records with one checksum; nothing is kept secret by it."""


def checksum_of(*values: Any) -> str:
    """Return the BLAKE2b digest, in hex, of the values of one record, in the order of their columns.

    Both databases give the same checksum: an instant counts in UTC, a JSON value without its spaces.
    It is empty if one of the values cannot be read.
    """
    if any(type(value) is str and not is_text(value) for value in values):
        return ""
    try:
        return blake2b(CANONICAL.encode(values).encode(), digest_size=DIGEST_BYTES).hexdigest()
    except UnreadableValueError:
        return ""


def fits(checksum: object, *values: Any) -> bool:
    """Whether the values are those that the checksum was made of; an empty one fits nothing."""
    return bool(checksum) and checksum_of(*values) == checksum


def is_text(value: object) -> bool:
    """Whether this is text. Bytes that are no UTF-8 are read as surrogates, which no text has."""
    if not isinstance(value, str):
        return False
    return value.isascii() or not any("\ud800" <= sign <= "\udfff" for sign in value)


class UnreadableValueError(TypeError):
    """A value that no column of ours holds, or that cannot be read."""


def _plain(value: object) -> str:
    if isinstance(value, UUID):
        return value.hex
    if isinstance(value, datetime):
        return str(value.timestamp())
    if isinstance(value, date):
        return value.isoformat()
    raise UnreadableValueError


CANONICAL = json.JSONEncoder(default=_plain, sort_keys=True, separators=(",", ":"))
