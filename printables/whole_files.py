"""Files that appear whole or not at all."""

import os
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path

from printables.errors import CannotWriteError


def write_whole(files: Sequence[tuple[Path, bytes]]) -> None:
    """Write all files, each beside its place first, and only then put them in their places.

    Raises:
        CannotWriteError: one of them can't be written; none of those not yet in place is left behind.
    """
    try:
        for path, content in files:
            _write_durably(_beside(path), content)
        for path, _ in files:
            _beside(path).replace(path)
    except OSError as error:
        for path, _ in files:
            with suppress(OSError):
                _beside(path).unlink()
        raise CannotWriteError(
            f"{error.filename}: cannot be written ({error.strerror}); choose another folder or name"
        ) from error


def _beside(path: Path) -> Path:
    return path.with_name(f".{path.name}.part")


def _write_durably(path: Path, content: bytes) -> None:
    with path.open("wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())
