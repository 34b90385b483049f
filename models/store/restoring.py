"""Puts a copy in the place of a database file: whole or not at all, and what was there is kept.

The order of the steps bears a kill at any moment. The copy is finished and checked under a name of its own.
A note is written; the files that are there get dated names; the copy gets the database's name; the note is
removed. Whoever finds a note undoes what was begun, or removes it if the copy is in place.
"""

import os
import stat
from collections.abc import Iterator
from contextlib import contextmanager, nullcontext, suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from models.store.backups import STAMP, TRIES
from models.store.copying import finish_copy, make_private, put_in_place, told_of, write_through
from models.store.errors import CannotOpenError, CopyFailedError, DatabaseBusyError
from models.store.file_locks import database_held_alone, held_alone

SIDES = ("", "-wal", "-shm")
"""A database and what SQLite keeps beside it. With the log of another, a copy is destroyed."""


@dataclass(frozen=True, slots=True)
class _Places:
    """The names that a restoring uses, all in the folder of the database."""

    database: Path

    @property
    def note(self) -> Path:
        return self.database.with_name(f"{self.database.name}.restoring")

    @property
    def incoming(self) -> Path:
        return self.database.with_name(f"{self.database.name}.incoming")

    def aside(self, now: datetime) -> Path:
        """A name under which nothing lies yet, nor beside it."""
        named = f"{self.database.stem}.set-aside.{now.astimezone(UTC):{STAMP}}"
        for ending in ("", *(f".{n}" for n in range(2, TRIES))):
            file = self.database.with_name(f"{named}{ending}{self.database.suffix}")
            if not any(side_of(file, side).exists() for side in SIDES):
                return file
        raise CopyFailedError(f"{self.database}: too many files are set aside in its folder; move some away")


def restore(database: Path, copy: Path, now: datetime, *, may_be_damaged: bool = False) -> Path | None:
    """Put the copy in the place of the database; return where the one that was there is now, if any.

    Raises StorageError; everything is then as it was:
        CopyFailedError: the copy is damaged and must not be, or there is no room for it.
        NotOurDatabaseError, NewerDatabaseError: it is none that this program knows.
        DatabaseBusyError: somebody has the database open.
    """
    places = _Places(database)
    if database.exists() and copy.exists() and copy.samefile(database):
        raise CopyFailedError(f"{copy}: this is the database itself; name a copy of it")
    tidy_up(database)
    with told_of(database), _noted(places), _nobody_has_it_open(database):
        make_private(places.incoming)
        finish_copy(copy, places.incoming, may_be_damaged=may_be_damaged)
        _keep_its_rights(database, places.incoming)
        return _exchange(places, now)


def tidy_up(database: Path) -> None:
    """Undo a restoring that was cut off; where it had its copy in place already, that stays.

    Raises:
        DatabaseBusyError: one is under way.
        CannotOpenError: the folder of the database does not let itself be looked into.
    """
    places = _Places(database)
    try:
        is_begun = places.note.exists()
    except OSError as error:
        told = f"{database}: it cannot be looked for ({error.strerror}); see to its folder and its name"
        raise CannotOpenError(told) from error
    if not is_begun:
        return
    with told_of(database), held_alone(places.note) as is_ours:
        if not is_ours:
            raise DatabaseBusyError(f"{database}: a copy is being put in its place; wait until it is there")
        _undo(places)


def side_of(file: Path, side: str) -> Path:
    return file.with_name(f"{file.name}{side}")


@contextmanager
def _noted(places: _Places) -> Iterator[None]:
    """The note lies there, locked, while the block runs; if the block fails, all is undone."""
    make_private(places.note)
    with held_alone(places.note):
        try:
            yield
        finally:
            _undo(places)


def _exchange(places: _Places, now: datetime) -> Path | None:
    aside = places.aside(now)
    places.note.write_text(aside.name)
    for written in (places.note, places.note.parent):
        write_through(written)
    was_there = places.database.exists()
    for side in SIDES:
        with suppress(FileNotFoundError):
            side_of(places.database, side).rename(side_of(aside, side))
    write_through(places.database.parent)
    put_in_place(places.incoming, places.database)
    return aside if was_there else None


def _undo(places: _Places) -> None:
    """Bring everything back unless the copy is in place; then only what was used for it is removed."""
    aside = places.note.read_text()
    if aside and not _is_in_place(places):
        for side in SIDES:
            old = side_of(places.database.with_name(aside), side)
            if old.exists() and not side_of(places.database, side).exists():
                old.rename(side_of(places.database, side))
    for used in (places.incoming, places.note):
        used.unlink(missing_ok=True)
        write_through(places.database.parent)


def _is_in_place(places: _Places) -> bool:
    if not places.database.exists():
        return False
    return not places.incoming.exists() or places.incoming.samefile(places.database)


@contextmanager
def _nobody_has_it_open(database: Path) -> Iterator[None]:
    with database_held_alone(database) if database.exists() else nullcontext(True) as is_ours:
        if not is_ours:
            raise DatabaseBusyError(
                f"{database}: it is open; close the app at every station that uses it, then restore again"
            )
        yield


def _keep_its_rights(database: Path, incoming: Path) -> None:
    """Whoever could read and write the old one can use the new one."""
    if database.exists():
        old = database.stat()
        incoming.chmod(stat.S_IMODE(old.st_mode))
        with suppress(PermissionError, AttributeError):  # only root may; Windows has no such thing
            os.chown(incoming, old.st_uid, old.st_gid)
