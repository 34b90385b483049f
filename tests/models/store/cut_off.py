"""Restores a copy in a process that ends without a word at one of its steps, or gets no room on the disk.

python -m tests.models.store.cut_off DATABASE COPY STEP [MOST_BYTES]
"""

import os
import resource
import sys
from datetime import UTC, datetime
from pathlib import Path

from models.store.restoring import restore

STEPS = ("os.rename", "os.link", "os.remove", "os.chmod")
CUT_OFF = 9


def main(database: Path, copy: Path, last_step: int, most_bytes: int = 0) -> None:
    """The process ends before its file system is changed for the `last_step`-th time."""
    folder, left = str(database.parent), last_step

    def count(event: str, about: tuple[object, ...]) -> None:
        nonlocal left
        if (event in STEPS or event == "open") and str(about[0]).startswith(folder):
            left -= 1
            if left == 0:
                os._exit(CUT_OFF)

    if most_bytes:
        resource.setrlimit(resource.RLIMIT_FSIZE, (most_bytes, most_bytes))
    sys.addaudithook(count)
    restore(database, copy, datetime(2026, 11, 3, 8, tzinfo=UTC))


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]), *map(int, sys.argv[3:]))
