"""Remembers which database files there have been, so that one that has gone is not made anew in silence."""

from contextlib import suppress
from pathlib import Path

from models.errors import StorageError

MOST = 50
"""The most files that are remembered, the latest first."""


class DatabaseVanishedError(StorageError):
    """The database file was there at the last start, and is not there now."""


class KnownDatabases:
    """The list of files, one a line in a text file; who cannot write that goes without."""

    def __init__(self, note: Path) -> None:
        self._note = note

    def must_not_have_vanished(self, url: str, mend: str) -> None:
        """Raises DatabaseVanishedError if its file, known from an earlier start, is gone or empty.

        `mend` says what can be done about it besides looking to its disk. A file that a restoring which was
        cut off has set aside is brought back first.
        """
        from models.store.restoring import tidy_up

        file = _file_of(url)
        if file is not None:
            tidy_up(file)
        if file is not None and _is_gone(file) and str(file) in self._files():
            raise DatabaseVanishedError(
                f"{file}: this database was here at the last start and is gone; see to its disk, or {mend}"
            )

    def remember(self, url: str) -> None:
        file = _file_of(url)
        files = self._files()
        if file is None or files[:1] == [str(file)]:
            return
        lines = [str(file), *(known for known in files if known != str(file))][:MOST]
        with suppress(OSError):
            self._note.parent.mkdir(parents=True, exist_ok=True)
            unfinished = self._note.with_name(f"{self._note.name}.unfinished")
            unfinished.write_text("\n".join(lines), errors="surrogateescape")
            unfinished.replace(self._note)

    def _files(self) -> list[str]:
        try:
            return self._note.read_text(errors="surrogateescape").splitlines()
        except OSError:
            return []


def known_databases() -> KnownDatabases:
    """The list of this person on this computer; it does not lie where the database does."""
    from platformdirs import user_state_path

    return KnownDatabases(user_state_path("press-floor", appauthor=False) / "databases.txt")


def _file_of(url: str) -> Path | None:
    from models.store.database import Database

    database = Database(url)
    database.close()
    return database.file.absolute() if database.file is not None else None


def _is_gone(file: Path) -> bool:
    return not file.exists() or file.stat().st_size == 0
