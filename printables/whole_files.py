"""Files that appear whole or not at all."""

import os
from collections.abc import Sequence
from contextlib import suppress
from errno import EACCES, EISDIR, ENOTDIR
from pathlib import Path

from printables.errors import CannotWriteError


def write_whole(files: Sequence[tuple[Path, bytes]]) -> None:
    """Write all files, each beside its place first, and only then put them in their places.

    Folders that are missing are made.

    Raises:
        CannotWriteError: one of them can't be written; what was not yet in its place is taken away.
    """
    try:
        for path, content in files:
            path.parent.mkdir(parents=True, exist_ok=True)
            _write_durably(_beside(path), content)
        for path, _ in files:
            _beside(path).replace(path)
    except OSError as error:
        for path, _ in files:
            with suppress(OSError):
                _beside(path).unlink()
        where = files[0][0] if len(files) == 1 else files[0][0].parent
        raise _cannot_write(where, error.errno) from error


def must_be_writable(path: Path) -> None:
    """Look at the place of a file that takes long to make, before it is made.

    Raises:
        CannotWriteError: it is a folder, or lies below a file or a folder that this person can't write.
    """
    there = next(parent for parent in path.absolute().parents if parent.exists())
    if path.is_dir():
        raise _cannot_write(path, EISDIR)
    if not there.is_dir():
        raise _cannot_write(path, ENOTDIR)
    if not os.access(there, os.W_OK | os.X_OK):
        raise _cannot_write(path, EACCES)


def _cannot_write(where: Path, code: int | None) -> CannotWriteError:
    why = os.strerror(code) if code else "unknown"
    return CannotWriteError(f"{where}: cannot be written ({why}); choose another folder or name")


def _beside(path: Path) -> Path:
    return path.with_name(f".{path.name}.part")


def _write_durably(path: Path, content: bytes) -> None:
    with path.open("wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())
