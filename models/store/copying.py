"""One checked copy of a database file, whole or not at all, also while the app goes on writing."""

import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from models.store.checking import copy_faults
from models.store.database import ONLY_OURS, Database, reading_uri
from models.store.errors import CannotOpenError, CopyFailedError, DamagedCopyError
from models.store.failures import told_plainly

FOLDER_ONLY_OURS = 0o700
UNFINISHED = ".unfinished"


def copy_checked(source: Path, target: Path, *, may_be_damaged: bool = False) -> None:
    """Copy the database and put the copy in its place once it has been opened and found sound.

    Raises CopyFailedError or another StorageError; then there is no copy, and nothing else has changed. What
    is at `target` already is never overwritten. If it `may_be_damaged`, it is copied as it is.
    """
    unfinished = target.with_name(f"{target.name}{UNFINISHED}")
    with told_of(target):
        if target.exists():
            raise CopyFailedError(f"{target}: there is such a file already; name another")
        make_private(unfinished)
        try:
            finish_copy(source, unfinished, may_be_damaged=may_be_damaged)
            put_in_place(unfinished, target)
        finally:
            unfinished.unlink(missing_ok=True)


def finish_copy(source: Path, unfinished: Path, *, may_be_damaged: bool) -> None:
    """Fill the empty file with a copy of the source, check it, and have the disk keep it.

    Raises DamagedCopyError if something in it is damaged and must not be, or another StorageError, OSError.
    """
    _copy(source, unfinished)
    with closing(Database(f"sqlite:///{unfinished}", reads_only=True)) as database:
        database.name = str(source)  # what is found is about that
        faults = copy_faults(database)
    if faults and not may_be_damaged:
        more = f" (and {len(faults) - 1} more)" if len(faults) > 1 else ""
        raise DamagedCopyError(f"{source}: no sound copy can be made of it: {faults[0]}{more}")
    write_through(unfinished)


def make_private(file: Path) -> None:
    """Make an empty file that only this person may read. Raises OSError if it is there already."""
    os.close(os.open(file, os.O_CREAT | os.O_EXCL | os.O_WRONLY, ONLY_OURS))


def write_through(path: Path) -> None:
    """Have the disk keep what was written to a file, or which files a folder has."""
    if os.name == "nt" and path.is_dir():
        return  # Windows keeps its folders by itself, and opens none
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def put_in_place(unfinished: Path, target: Path) -> None:
    """Give a finished file its name, and never overwrite what is there. Raises OSError."""
    try:
        os.link(unfinished, target)  # unlike a renaming, it fails if the name is taken
        unfinished.unlink()
    except FileExistsError:
        raise
    except OSError:  # a disk without hard links
        if target.exists():
            raise
        unfinished.rename(target)
    write_through(target.parent)


def _copy(source: Path, target: Path) -> None:
    """What is in the log beside the source is copied with it."""
    if not source.is_file():
        raise CannotOpenError(f"{source}: there is no such file; check its name")
    with told_plainly(str(source)), closing(_connected(source)) as of:
        of.execute("SELECT count(*) FROM sqlite_master")
        with told_plainly(f"{target.parent}, for the copy"), closing(sqlite3.connect(target)) as to:
            to.execute("PRAGMA journal_mode = OFF")  # half a copy is thrown away, never repaired
            of.backup(to)


def _connected(source: Path) -> sqlite3.Connection:
    """A connection that never makes the file; it is copied also by a person who may not write there."""
    may_write = os.access(source, os.W_OK) and os.access(source.parent, os.W_OK)
    uri = f"{source.absolute().as_uri()}?mode=rw" if may_write else reading_uri(source)
    return sqlite3.connect(uri, uri=True)


@contextmanager
def told_of(target: Path) -> Iterator[None]:
    """Turn what the disk refuses into a line."""
    try:
        yield
    except OSError as error:
        what = error.strerror or type(error).__name__
        mend = "make room there, or name another file"
        raise CopyFailedError(f"{target}: it could not be written ({what}); {mend}") from error
