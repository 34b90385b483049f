"""UUID version 7 against RFC 9562, and against uuid_utils, a library that reads and writes it.

The example is that of appendix A.6 of the RFC: 2022-02-22 14:22:22 at UTC-5, so 19:22:22 UTC.
"""

from datetime import UTC, datetime, timedelta, timezone
from random import Random
from uuid import RFC_4122, UUID

import uuid_utils

from models.clock import HeldClock
from models.store.uuid7 import Uuid7Maker, uuid7_of

EXAMPLE = UUID("017F22E2-79B0-7CC3-98C4-DC0C0C07398F")
EXAMPLE_MS = 1645557742000
EXAMPLE_AT = datetime(2022, 2, 22, 14, 22, 22, tzinfo=timezone(timedelta(hours=-5)))


def test_the_fields_of_the_example_give_the_example() -> None:
    assert uuid7_of(EXAMPLE_MS, rand_a=0xCC3, rand_b=0x18C4DC0C0C07398F) == EXAMPLE


def test_an_id_made_at_the_instant_of_the_example_begins_like_it() -> None:
    made = Uuid7Maker(HeldClock(EXAMPLE_AT), Random(1))()
    assert made.hex[:12] == EXAMPLE.hex[:12]
    assert (made.version, made.variant) == (7, RFC_4122)


def test_the_library_reads_our_time() -> None:
    at = datetime(2026, 11, 3, 8, 0, 0, 123000, tzinfo=UTC)
    made = Uuid7Maker(HeldClock(at), Random(1))()
    assert uuid_utils.UUID(str(made)).timestamp == at.timestamp() * 1000


def test_ours_and_the_librarys_sort_together() -> None:
    at = datetime(2026, 11, 3, 8, 0, 1, tzinfo=UTC)
    ours = Uuid7Maker(HeldClock(at), Random(1))()
    at_ns = int(at.timestamp()) * 1_000_000_000
    before, after = (
        str(uuid_utils.uuid7(nanoseconds=at_ns + shift_ns)) for shift_ns in (-1_000_000, 1_000_000)
    )
    assert before < str(ours) < after
