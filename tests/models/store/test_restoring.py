"""A copy is put in the place of the database whole or not at all, and what was there is kept."""

import sqlite3
import subprocess
import sys
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

import pytest

from models.errors import StorageError
from models.garment.events import TakenUp
from models.store.backups import Backups
from models.store.checking import faults_of
from models.store.database import Database
from models.store.errors import (
    CannotOpenError,
    CopyFailedError,
    DatabaseBusyError,
    NewerDatabaseError,
    NotOurDatabaseError,
)
from models.store.restoring import restore, tidy_up
from tests.held_clock import MORNING
from tests.models.store.conftest import OpenStore
from tests.models.store.cut_off import CUT_OFF
from tests.models.store.taps import first_garment, load_vests, tap
from tests.models.store.test_killed_writer import ROOT, killed_after
from tests.models.store.test_opening import make_old

LONGEST = 60
"""More steps than a restoring has."""


@dataclass(frozen=True)
class Shop:
    """A database with two taps, of which its copy has one; `code` is the garment's tag."""

    file: Path
    copy: Path
    code: str

    @property
    def url(self) -> str:
        return f"sqlite:///{self.file}"


@pytest.fixture
def shop(open_store: OpenStore, sqlite_url: str, tmp_path: Path) -> Shop:
    store = open_store(sqlite_url)
    load_vests(store)
    garment = tap(store, first_garment(store), TakenUp())
    copy = Backups(tmp_path / "floor.db").make(MORNING).file
    tap(store, garment, TakenUp())
    store.close()
    return Shop(tmp_path / "floor.db", copy, garment.row.code)


def taps(open_store: OpenStore, file: Path, code: str) -> int:
    """How many events the garment has; the database is looked over first."""
    with closing(Database(f"sqlite:///{file}")) as database:
        assert faults_of(database) == ()
    with closing(open_store(f"sqlite:///{file}")) as store:
        return store.garment(code).progress.seq


def test_a_copy_is_put_back_and_the_old_file_set_aside(shop: Shop, open_store: OpenStore) -> None:
    aside = restore(shop.file, shop.copy, MORNING)

    assert aside == shop.file.with_name("floor.set-aside.20261103T080000Z.db")
    assert taps(open_store, shop.file, shop.code) == 1
    assert taps(open_store, aside, shop.code) == 2
    assert taps(open_store, shop.copy, shop.code) == 1


def test_it_can_be_done_again_and_again(shop: Shop, open_store: OpenStore) -> None:
    asides = {restore(shop.file, shop.copy, MORNING) for _ in range(3)}

    assert len(asides) == 3
    assert taps(open_store, shop.file, shop.code) == 1


def test_the_log_of_a_killed_station_goes_aside_with_its_file(shop: Shop, open_store: OpenStore) -> None:
    """Left beside the copy, that log would destroy it."""
    killed_after(30, shop.url, [shop.code])
    log = shop.file.with_name("floor.db-wal")
    assert log.stat().st_size
    aside = restore(shop.file, shop.copy, MORNING)

    assert aside is not None
    assert not log.exists()
    assert taps(open_store, shop.file, shop.code) == 1
    assert taps(open_store, aside, shop.code) >= 32


def test_logs_that_lie_about_without_their_file_go_aside_too(shop: Shop, open_store: OpenStore) -> None:
    killed_after(30, shop.url, [shop.code])
    shop.file.unlink()
    assert restore(shop.file, shop.copy, MORNING) is None
    assert taps(open_store, shop.file, shop.code) == 1


def test_a_copy_is_put_where_there_is_none(shop: Shop, open_store: OpenStore) -> None:
    for file in shop.file.parent.glob("floor.db*"):
        file.unlink()
    assert restore(shop.file, shop.copy, MORNING) is None
    assert taps(open_store, shop.file, shop.code) == 1


def test_a_damaged_file_is_set_aside_as_well(shop: Shop, open_store: OpenStore) -> None:
    shop.file.write_bytes(b"\xff" * 50_000)
    aside = restore(shop.file, shop.copy, MORNING)

    assert aside is not None
    assert aside.read_bytes() == b"\xff" * 50_000
    assert taps(open_store, shop.file, shop.code) == 1


def test_a_database_that_is_open_elsewhere_is_left_alone(shop: Shop, open_store: OpenStore) -> None:
    program = [sys.executable, "-m", "tests.models.store.endless_writer", shop.url, shop.code]
    with subprocess.Popen(program, cwd=ROOT, stdout=subprocess.PIPE, text=True) as station:
        assert station.stdout is not None
        station.stdout.readline()
        with pytest.raises(DatabaseBusyError, match=r"floor\.db: it is open; close the app at every station"):
            restore(shop.file, shop.copy, MORNING)
        station.stdout.readline()  # it goes on
        station.kill()
    assert_as_it_was(shop)
    assert taps(open_store, shop.file, shop.code) > 2


def test_the_database_is_no_copy_of_itself(shop: Shop) -> None:
    with pytest.raises(CopyFailedError, match="this is the database itself"):
        restore(shop.file, shop.file, MORNING)
    assert_as_it_was(shop)


def damage_a_record(copy: Path) -> None:
    with closing(sqlite3.connect(copy)) as opened:
        opened.executescript("UPDATE garments SET wearer = 'Inez' WHERE n = 1")


def damage_a_page(copy: Path) -> None:
    with copy.open("r+b") as opened:
        opened.seek(8 * 4096)
        opened.write(b"\xff" * 4096)


def make_newer(copy: Path) -> None:
    with closing(sqlite3.connect(copy)) as opened:
        opened.executescript("UPDATE alembic_version SET version_num = '9999'")


def make_anothers(copy: Path) -> None:
    copy.unlink()
    with closing(sqlite3.connect(copy)) as opened:
        opened.execute("CREATE TABLE tides (at TEXT)")


REFUSED = {
    "a damaged record": (damage_a_record, CopyFailedError, "garment 1 of batch LC-0147"),
    "a damaged page": (damage_a_page, StorageError, "damaged|no sound copy"),
    "of a newer version": (make_newer, NewerDatabaseError, "revision 9999"),
    "of another program": (make_anothers, NotOurDatabaseError, "another program"),
    "cut short": (
        lambda copy: copy.write_bytes(copy.read_bytes()[:30_000]),
        StorageError,
        "damaged|no sound copy",
    ),
    "empty": (lambda copy: copy.write_bytes(b""), CannotOpenError, "nothing is stored in it"),
    "not there": (Path.unlink, CannotOpenError, "there is no such file"),
}


@pytest.mark.parametrize(("spoil", "kind", "told"), REFUSED.values(), ids=REFUSED)
def test_a_copy_that_is_not_sound_is_refused_and_nothing_changes(
    shop: Shop, open_store: OpenStore, spoil, kind: type[StorageError], told: str
) -> None:
    spoil(shop.copy)
    with pytest.raises(kind, match=told) as refused:
        restore(shop.file, shop.copy, MORNING)

    assert str(shop.copy) in str(refused.value)
    assert_as_it_was(shop)
    assert taps(open_store, shop.file, shop.code) == 2


def test_a_damaged_copy_is_put_back_if_one_says_so(shop: Shop, open_store: OpenStore) -> None:
    damage_a_record(shop.copy)
    restore(shop.file, shop.copy, MORNING, may_be_damaged=True)

    with closing(open_store(shop.url)) as store:
        assert [row.n for row in store.garments("LC-0147")] == [2]


def test_an_older_copy_is_brought_up_to_date_when_it_is_opened(shop: Shop, open_store: OpenStore) -> None:
    older = shop.file.with_name("older.db")
    make_old(f"sqlite:///{older}")
    restore(shop.file, older, MORNING)

    with closing(open_store(shop.url)) as store:
        assert store.batch("OLD-1").name == "Buoy crew"


@pytest.mark.parametrize("is_killed_before", [False, True], ids=["closed", "killed"])
def test_a_restoring_that_is_cut_off_at_any_step_leaves_one_or_the_other(
    shop: Shop, open_store: OpenStore, is_killed_before: bool
) -> None:
    """All the old one has, or all the copy has: whoever opens it next finds it whole."""
    if is_killed_before:
        killed_after(5, shop.url, [shop.code])
    before = {file.name: file.read_bytes() for file in shop.file.parent.glob("floor.db*")}
    seen = set()
    for step in range(1, LONGEST):
        for name, content in before.items():
            (shop.file.parent / name).write_bytes(content)
        status = restoring(shop, step)
        tidy_up(shop.file)
        assert not list(shop.file.parent.glob("floor.db.*"))
        seen.add(taps(open_store, shop.file, shop.code))
        for file in shop.file.parent.glob("floor.*"):
            file.unlink()
        if status == 0:
            break
        assert status == CUT_OFF
    assert len(seen) == 2
    assert min(seen) == 1
    assert step < LONGEST - 1


def test_a_cut_off_restoring_is_undone_by_the_next_start(shop: Shop, open_store: OpenStore) -> None:
    for step in range(1, LONGEST):
        restoring(shop, step)
        if not shop.file.exists():
            break
        tidy_up(shop.file)
    assert not shop.file.exists()
    with closing(open_store(shop.url)) as store:
        assert store.garment(shop.code).progress.seq == 2


def test_a_disk_without_room_leaves_everything_as_it_was(shop: Shop, open_store: OpenStore) -> None:
    assert restoring(shop, 0, most_bytes=50_000) == 1

    assert_as_it_was(shop)
    assert taps(open_store, shop.file, shop.code) == 2


def restoring(shop: Shop, last_step: int, most_bytes: int = 0) -> int:
    """The status with which a process that restores the copy ends."""
    words = (shop.file, shop.copy, last_step, most_bytes)
    program = [sys.executable, "-m", "tests.models.store.cut_off", *map(str, words)]
    return subprocess.run(program, cwd=ROOT, capture_output=True, check=False).returncode


def assert_as_it_was(shop: Shop) -> None:
    """Nothing of the restoring lies about, and nothing was set aside."""
    lying = {file.name for file in shop.file.parent.iterdir()}
    assert lying <= {"floor.db", "floor.db-wal", "floor.db-shm", "backups"}
    assert shop.file.exists()


def test_a_person_is_told_while_another_restores(shop: Shop, open_store: OpenStore) -> None:
    program = (
        "import sys; from pathlib import Path; from models.store.file_locks import held_alone;"
        "lock = held_alone(Path(sys.argv[1])); lock.__enter__(); print('locked', flush=True); input()"
    )
    note = shop.file.with_name("floor.db.restoring")
    note.touch()
    command = [sys.executable, "-c", program, str(note)]
    with subprocess.Popen(command, cwd=ROOT, stdin=subprocess.PIPE, stdout=subprocess.PIPE) as other:
        assert other.stdout is not None
        other.stdout.readline()
        with pytest.raises(DatabaseBusyError, match="a copy is being put in its place"):
            open_store(shop.url)
        other.kill()
