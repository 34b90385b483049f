"""Whether a database is still the file that was opened: what is written into a deleted file is lost."""

from pathlib import Path

from models.store.errors import DatabaseReplacedError

Identity = tuple[int, int]
"""Device and inode: another file under the same name has others."""


class FileIdentity:
    """Remembers which file, and which log beside it, lie under a database's name."""

    def __init__(self, file: Path) -> None:
        self._file, self._log = file, file.with_name(f"{file.name}-wal")
        self._known: dict[Path, Identity] = {}

    def must_be_the_same(self, *, with_log: bool) -> None:
        """Raises DatabaseReplacedError if one of both is gone or another one. What is new is remembered.

        The log is only looked at in a transaction that writes: before, it may come and go with others.
        """
        for place in (self._file, self._log) if with_log else (self._file,):
            now, known = _identity(place), self._known.get(place)
            if known is None and now is not None:
                self._known[place] = now
            elif now != known:
                raise DatabaseReplacedError(
                    f"{place}: this file was deleted, moved or replaced while it was open, so nothing can be "
                    "stored; move the same file back, no copy of it, or close the app at every station and "
                    "`floorapp restore` a copy"
                )

    def forget_log(self, *_: object) -> None:
        """The log goes with the last connection, and comes anew with the next."""
        self._known.pop(self._log, None)


def _identity(file: Path) -> Identity | None:
    try:
        found = file.stat()
    except FileNotFoundError:
        return None
    return found.st_dev, found.st_ino
