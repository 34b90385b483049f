"""Checksums of stored records: what has changed on the disk since it was written is found when it is read."""

import json
from datetime import date, datetime
from hashlib import blake2b
from typing import Any
from uuid import UUID

from models.store.guarded import UNREADABLE

DIGEST_BYTES = 16
"""Chance does not find two records with one checksum; nothing is kept secret by it."""


def checksum_of(*values: Any) -> str:
    """Return the BLAKE2b digest, in hex, of the values of one record, in the order of their columns.

    Both databases give the same checksum: an instant counts in UTC, a JSON value without its spaces.
    It is empty if one of the values cannot be read.
    """
    if any(value is UNREADABLE or (isinstance(value, str) and not is_text(value)) for value in values):
        return ""
    text = json.dumps(values, default=_plain, sort_keys=True, separators=(",", ":"))
    return blake2b(text.encode(), digest_size=DIGEST_BYTES).hexdigest()


def fits(checksum: object, *values: Any) -> bool:
    """Whether the values are those that the checksum was made of; an empty one fits nothing."""
    return bool(checksum) and checksum_of(*values) == checksum


def is_text(value: object) -> bool:
    """Whether this is text. Bytes that are no UTF-8 are read as surrogates, which no text has."""
    return isinstance(value, str) and not any("\ud800" <= sign <= "\udfff" for sign in value)


def _plain(value: object) -> str:
    match value:
        case UUID():
            return value.hex
        case datetime():
            return str(value.timestamp())
        case date():
            return value.isoformat()
        case bytes():  # no column of ours holds any: its record has another checksum
            return repr(value)
    raise TypeError(f"no checksum is made of a {type(value).__name__}")
