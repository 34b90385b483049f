"""A database that was deleted, moved or replaced while it is open takes no tap in silence."""

import shutil
import stat
from collections.abc import Callable
from pathlib import Path

import pytest

from models.garment.events import TakenUp
from models.store.errors import DatabaseReplacedError
from models.store.store import Store
from tests.models.store.conftest import OpenStore
from tests.models.store.taps import first_garment, load_vests, tap

Change = Callable[[Path], object]


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "floor.db"


@pytest.fixture
def floor(open_store: OpenStore, sqlite_url: str) -> Store:
    store = open_store(sqlite_url)
    load_vests(store)
    return store


def lay_another_over(file: Path) -> None:
    other = file.with_name("other.db")
    shutil.copyfile(file, other)
    other.replace(file)


def lay_another_log(file: Path) -> None:
    log = file.with_name("floor.db-wal")
    content = log.read_bytes()
    log.unlink()
    log.with_name("holds the inode").touch()
    log.write_bytes(content)


CHANGES: dict[str, tuple[Change, str]] = {
    "deleted": (Path.unlink, r"floor\.db: this file was deleted"),
    "moved": (lambda file: file.rename(file.with_name("elsewhere.db")), r"floor\.db: this file was deleted"),
    "replaced": (lay_another_over, r"floor\.db: this file was .* replaced"),
    "its log deleted": (lambda file: file.with_name("floor.db-wal").unlink(), r"floor\.db-wal: this file"),
    "its log replaced": (lay_another_log, r"floor\.db-wal: this file"),
}


@pytest.mark.parametrize(("change", "told"), CHANGES.values(), ids=CHANGES)
def test_no_tap_is_confirmed_that_would_be_lost(floor: Store, file: Path, change: Change, told: str) -> None:
    garment = tap(floor, first_garment(floor), TakenUp())
    change(file)
    for _ in range(2):
        with pytest.raises(DatabaseReplacedError, match=f"{told}.*; move the same file back, no copy"):
            tap(floor, garment, TakenUp())


@pytest.mark.parametrize("change", [Path.unlink, lay_another_over], ids=["deleted", "replaced"])
def test_nothing_is_read_from_a_file_that_is_not_there_any_more(
    floor: Store, file: Path, change: Change
) -> None:
    floor.batches()
    change(file)
    with pytest.raises(DatabaseReplacedError):
        floor.batches()


def test_a_file_that_was_put_back_is_gone_on_with(floor: Store, file: Path) -> None:
    garment = tap(floor, first_garment(floor), TakenUp())
    away = file.rename(file.with_name("away.db"))
    with pytest.raises(DatabaseReplacedError):
        tap(floor, garment, TakenUp())
    away.rename(file)

    assert tap(floor, garment, TakenUp()).progress.seq == 2


def test_stations_that_come_and_go_disturb_nobody(
    floor: Store, open_store: OpenStore, sqlite_url: str
) -> None:
    garment = first_garment(floor)
    for _ in range(5):
        other = open_store(sqlite_url)
        garment = tap(floor, garment, TakenUp())
        garment = tap(other, other.garment(garment.row.code), TakenUp())
        other.close()
    assert floor.garment(garment.row.code).progress.seq == 10


def test_a_new_database_and_its_log_can_be_read_by_nobody_else(floor: Store, file: Path) -> None:
    tap(floor, first_garment(floor), TakenUp())
    rights = {lying.name: stat.S_IMODE(lying.stat().st_mode) for lying in file.parent.glob("floor.db*")}

    assert rights == dict.fromkeys(("floor.db", "floor.db-wal", "floor.db-shm"), 0o600)


def test_a_database_that_is_shared_on_purpose_stays_shared(
    floor: Store, file: Path, open_store: OpenStore, sqlite_url: str
) -> None:
    file.chmod(0o640)
    open_store(sqlite_url)

    assert stat.S_IMODE(file.stat().st_mode) == 0o640
