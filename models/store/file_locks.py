"""Locks on files that end with the process: who restores a database, and whether anybody has it open.

Only where the system has POSIX locks. Elsewhere (Windows) a file that is open cannot be renamed anyway.
"""

import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

try:
    import fcntl
except ImportError:  # no POSIX system
    fcntl = None  # type: ignore[assignment]

SHARED_FIRST, SHARED_SIZE = 0x40000002, 510
"""The bytes that SQLite locks, shared, while a connection has the database open; in WAL mode all the time.
Source: sqlite.org, os.h ("Locking byte ranges") and wal.html.
"""


@contextmanager
def held_alone(file: Path) -> Iterator[bool]:
    """Lock a file that is there for as long as the block runs; False if another process has the lock."""
    handle = os.open(file, os.O_RDWR)
    try:
        yield fcntl is None or _takes(lambda: fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB))
    finally:
        os.close(handle)


@contextmanager
def database_held_alone(file: Path) -> Iterator[bool]:
    """Keep other processes out of a database for as long as the block runs; False if one has it open.

    This process must not have it open itself: the end of the block would end those locks, too.
    """
    handle = os.open(file, os.O_RDWR)
    try:
        area = (SHARED_SIZE, SHARED_FIRST)
        yield fcntl is None or _takes(lambda: fcntl.lockf(handle, fcntl.LOCK_EX | fcntl.LOCK_NB, *area))
    finally:
        os.close(handle)


def _takes(lock: Callable[[], None]) -> bool:
    try:
        lock()
    except OSError:
        return False
    return True
