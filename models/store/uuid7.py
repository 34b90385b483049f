"""UUIDs of version 7, which sort by the time they were made. Source: RFC 9562, sections 5.7 and 6.2."""

from datetime import UTC, datetime, timedelta
from random import Random
from uuid import UUID

from models.clock import Clock

EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
TICKS_PER_MS = 4096
"""`rand_a` has 12 bits: they carry the fraction of the millisecond."""


def uuid7_of(unix_ms: int, rand_a: int, rand_b: int) -> UUID:
    """The UUID with these fields: 48 bits of Unix time [ms], 12 and 62 bits more, version and variant.

    >>> uuid7_of(0, 0, 0)
    UUID('00000000-0000-7000-8000-000000000000')
    """
    return UUID(int=unix_ms << 80 | 0x7 << 76 | rand_a << 64 | 0b10 << 62 | rand_b)


class Uuid7Maker:
    """Makes UUIDs, each greater than the one before, even while the clock stands still or goes back."""

    def __init__(self, clock: Clock, random: Random) -> None:
        self._clock = clock
        self._random = random
        self._last_tick = 0

    def __call__(self) -> UUID:
        since = self._clock.utc_now() - EPOCH
        tick = since // timedelta(microseconds=1) * TICKS_PER_MS // 1000
        self._last_tick = max(tick, self._last_tick + 1)
        unix_ms, rand_a = divmod(self._last_tick, TICKS_PER_MS)
        return uuid7_of(unix_ms, rand_a, self._random.getrandbits(62))
