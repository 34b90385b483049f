"""What the computer refuses (a full disk, a lost drive, a private folder) is told in a line as well."""

from collections.abc import Iterator
from contextlib import contextmanager

from models.errors import FloorError


class ComputerError(FloorError):
    """The computer could not do what was asked of it."""


@contextmanager
def told_in_a_line() -> Iterator[None]:
    """Raises ComputerError where an OSError was raised inside."""
    try:
        yield
    except OSError as error:
        what = error.strerror or type(error).__name__
        where = f"{error.filename}: " if error.filename else ""
        raise ComputerError(f"{where}{what}; see to the disk or folder, then try again") from error
