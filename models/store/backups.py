"""The copies that are kept of a database file: how they are called, when one is due, and which are kept."""

import re
from collections.abc import Iterable
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from models.store.copying import FOLDER_ONLY_OURS, UNFINISHED, copy_checked
from models.store.database import Database
from models.store.errors import CannotOpenError, CopyFailedError, DamagedCopyError, OnServerError

FOLDER = "backups"
STAMP = "%Y%m%dT%H%M%SZ"
EVERY = timedelta(days=1)
ALL_OF = timedelta(days=7)
WEEKLY_FOR = timedelta(weeks=8)
LEAST_KEPT = 3
"""The newest ones are kept whatever their age: a clock that was set wrong takes no copy away."""
TRIES = 100
DAMAGED = "damaged"
"""Stands in the name of a copy in which something is damaged; it is there beside the sound ones."""


def file_to_copy(url: str) -> Path:
    """Return the file of the database at `url`. Raises OnServerError if it is on a server."""
    with closing(Database(url)) as database:
        if database.file is None:
            raise OnServerError(
                f"{database.name}: a database on a server is copied with the server's own tools: "
                "pg_dump writes a copy of it, pg_restore brings one back"
            )
        return database.file


@dataclass(frozen=True, slots=True)
class Backup:
    """One checked copy, and when it was made."""

    file: Path
    made_at: datetime


class Backups:
    """The folder of copies beside a database file."""

    def __init__(self, database: Path) -> None:
        self.database = database
        self.folder = database.parent / FOLDER
        ending = re.escape(database.suffix)
        self._name = re.compile(rf"{re.escape(database.stem)}\.(\d{{8}}T\d{{6}}Z)(\.[\w-]+)*{ending}")

    def all(self) -> tuple[Backup, ...]:
        """Return the copies that were sound when they were made, the newest first."""
        return tuple(copy for copy in self._every() if not _is_damaged(copy))

    def is_due(self, now: datetime) -> bool:
        """Whether a day has passed since the last copy; a copy from the future does not count."""
        last = next((copy.made_at for copy in self._every() if copy.made_at <= now), None)
        return last is None or now - last >= EVERY

    def make(self, now: datetime, why: str = "") -> Backup:
        """Make one more copy, while the app runs, and remove those that need not be kept.

        `why` stands in its name. Raises StorageError; the copies that are there then stay. Raises
        DamagedCopyError if something in the database is damaged: then it has been copied as it is, and
        nothing was removed but older ones of that kind.
        """
        if not self.database.is_file():
            raise CannotOpenError(f"{self.database}: there is no such database to copy; check its name")
        file = self._free_name(now, why)
        try:
            copy_checked(self.database, file)
        except DamagedCopyError as error:
            file = self._free_name(now, DAMAGED)
            copy_checked(self.database, file, may_be_damaged=True)
            self._remove([copy for copy in self._every() if _is_damaged(copy)][LEAST_KEPT:])
            raise DamagedCopyError(f"{error}. As it is, it was copied to {file}") from error
        self._prune(now, file)
        return Backup(file, now)

    def _every(self) -> tuple[Backup, ...]:
        """The finished copies, the newest first."""
        files = self.folder.iterdir() if self.folder.is_dir() else ()
        found = [Backup(file, at) for file in files if (at := self._made_at(file)) is not None]
        return tuple(sorted(found, key=lambda copy: (copy.made_at, copy.file.name), reverse=True))

    def _free_name(self, now: datetime, why: str) -> Path:
        try:
            self.folder.mkdir(mode=FOLDER_ONLY_OURS, exist_ok=True)
        except OSError as error:
            raise CopyFailedError(
                f"{self.folder}: this folder for copies cannot be made ({error.strerror}); see to its folder"
            ) from error
        named = f"{self.database.stem}.{now.astimezone(UTC):{STAMP}}"
        endings = ("", *(f".{n}" for n in range(2, TRIES)))
        names = (f"{named}{f'.{why}' if why else ''}{ending}{self.database.suffix}" for ending in endings)
        return next(file for name in names if not (file := self.folder / name).exists())

    def _made_at(self, file: Path) -> datetime | None:
        name = self._name.fullmatch(file.name)
        try:
            return datetime.strptime(name[1], STAMP).replace(tzinfo=UTC) if name else None
        except ValueError:  # digits that are no date: no copy of ours
            return None

    def _prune(self, now: datetime, newest_sound: Path) -> None:
        """Remove what need not be kept, and what earlier tries have left unfinished."""
        copies = self.all()
        keep = {copy.file for copy in kept(copies, now)} | {newest_sound}
        self._remove([copy for copy in copies if copy.file not in keep])
        for file in self.folder.glob(f"*{UNFINISHED}"):
            at = self._made_at(file.with_name(file.name.removesuffix(UNFINISHED)))
            if at is not None and now - at > EVERY:
                file.unlink(missing_ok=True)

    def _remove(self, copies: Iterable[Backup]) -> None:
        for copy in copies:
            copy.file.unlink(missing_ok=True)


def _is_damaged(copy: Backup) -> bool:
    return DAMAGED in copy.file.name.split(".")


def kept(copies: Iterable[Backup], now: datetime) -> tuple[Backup, ...]:
    """Return which copies stay: all of the last 7 days, the newest of each week for 8 weeks, and never fewer
    than the newest three.
    """
    newest_first = sorted(copies, key=lambda copy: copy.made_at, reverse=True)
    weeks: set[tuple[int, int]] = set()
    stay: list[Backup] = []
    for n, copy in enumerate(newest_first):
        age, week = now - copy.made_at, copy.made_at.isocalendar()[:2]
        if n < LEAST_KEPT or age <= ALL_OF or (age <= WEEKLY_FOR and week not in weeks):
            stay.append(copy)
            weeks.add(week)
    return tuple(stay)
