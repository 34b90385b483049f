"""Copies of the database: whole and checked, made while the floor works, and kept by age."""

import sqlite3
import stat
import subprocess
import sys
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path
from random import Random

import pytest

from models.garment.events import TakenUp
from models.store.backups import Backup, Backups, file_to_copy, kept
from models.store.copying import copy_checked
from models.store.errors import (
    CopyFailedError,
    DamagedCopyError,
    DamagedRecordError,
    NotOurDatabaseError,
    OnServerError,
)
from models.store.store import Store
from tests.held_clock import MORNING, HeldClock
from tests.models.store.conftest import OpenStore
from tests.models.store.taps import first_garment, load_vests, tap
from tests.models.store.test_killed_writer import ROOT
from tests.postgres_server import PostgresServer

DAY = timedelta(days=1)


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "floor.db"


@pytest.fixture
def floor(open_store: OpenStore, sqlite_url: str) -> Store:
    """A floor that is open, with a tap of which the file itself knows nothing yet."""
    store = open_store(sqlite_url)
    load_vests(store, sizes=("M", "L", "S"))
    tap(store, first_garment(store), TakenUp())
    return store


def test_a_copy_made_while_the_app_runs_has_every_tap(
    floor: Store, file: Path, open_store: OpenStore
) -> None:
    copy = Backups(file).make(MORNING)

    copied = open_store(f"sqlite:///{copy.file}")
    assert first_garment(copied) == first_garment(floor)
    assert copied.garments("LC-0147") == floor.garments("LC-0147")


def test_copies_made_while_another_station_taps_are_sound_and_lose_nothing_confirmed(
    floor: Store, file: Path, open_store: OpenStore, sqlite_url: str
) -> None:
    codes = [row.code for row in floor.garments("LC-0147")]
    confirmed: dict[str, int] = {}
    program = [sys.executable, "-m", "tests.models.store.endless_writer", sqlite_url, *codes]
    with subprocess.Popen(program, cwd=ROOT, stdout=subprocess.PIPE, text=True) as writer:
        assert writer.stdout is not None
        for n in range(5):
            for _ in range(20):
                code, seq = writer.stdout.readline().split()
                confirmed[code] = int(seq)
            copy = Backups(file).make(MORNING + n * DAY)
            copied = open_store(f"sqlite:///{copy.file}")
            for code, seq in confirmed.items():
                assert copied.garment(code).progress.seq >= seq
            copied.close()
        writer.kill()


def test_only_this_person_may_read_a_copy(floor: Store, file: Path) -> None:
    copy = Backups(file).make(MORNING)

    assert stat.S_IMODE(copy.file.stat().st_mode) == 0o600
    assert stat.S_IMODE(copy.file.parent.stat().st_mode) == 0o700
    assert [lying.name for lying in copy.file.parent.iterdir()] == ["floor.20261103T080000Z.db"]


def test_two_copies_of_one_second_do_not_overwrite_each_other(floor: Store, file: Path) -> None:
    backups = Backups(file)
    first, second = backups.make(MORNING), backups.make(MORNING)

    assert first.file != second.file
    assert {copy.file for copy in backups.all()} == {first.file, second.file}


def test_a_file_that_is_there_is_not_overwritten(floor: Store, file: Path, tmp_path: Path) -> None:
    letter = tmp_path / "letter.txt"
    letter.write_text("Dear crew")
    with pytest.raises(CopyFailedError, match=r"letter\.txt: there is such a file already"):
        copy_checked(file, letter)
    assert letter.read_text() == "Dear crew"


def damage_a_record(file: Path) -> None:
    with closing(sqlite3.connect(file)) as opened:
        opened.executescript("UPDATE garments SET wearer = 'Inez' WHERE n = 2")


def test_a_database_with_a_damaged_record_is_copied_as_it_is_and_told(floor: Store, file: Path) -> None:
    backups = Backups(file)
    sound = backups.make(MORNING)
    damage_a_record(file)
    with pytest.raises(DamagedCopyError, match=r"floor\.db: no sound copy .* garment 2 of batch LC-0147"):
        backups.make(MORNING + 90 * DAY)

    as_it_is = backups.folder / "floor.20270201T080000Z.damaged.db"
    assert backups.all() == (sound,)
    assert set(backups.folder.iterdir()) == {sound.file, as_it_is}
    assert not backups.is_due(MORNING + 90 * DAY)


def test_copies_of_a_damaged_database_never_crowd_out_the_sound_ones(floor: Store, file: Path) -> None:
    backups = Backups(file)
    sound = backups.make(MORNING)
    damage_a_record(file)
    for days in range(1, 8):
        with pytest.raises(DamagedCopyError):
            backups.make(MORNING + days * 30 * DAY)

    assert backups.all() == (sound,)
    assert len(list(backups.folder.iterdir())) == 1 + 3


def test_a_file_of_another_program_is_not_copied(tmp_path: Path) -> None:
    with closing(sqlite3.connect(tmp_path / "tides.db")) as other:
        other.execute("CREATE TABLE tides (at TEXT)")
    with pytest.raises(NotOurDatabaseError, match="another program"):
        copy_checked(tmp_path / "tides.db", tmp_path / "copy.db")
    assert not (tmp_path / "copy.db").exists()


def test_a_folder_that_cannot_be_made_is_told(floor: Store, file: Path) -> None:
    (file.parent / "backups").write_text("in the way")
    with pytest.raises(CopyFailedError, match="backups: this folder for copies cannot be made"):
        Backups(file).make(MORNING)


def test_a_copy_is_due_each_day(floor: Store, file: Path) -> None:
    backups = Backups(file)
    assert backups.is_due(MORNING)
    backups.make(MORNING)
    assert not backups.is_due(MORNING + DAY - timedelta(seconds=1))
    assert backups.is_due(MORNING + DAY)
    assert backups.is_due(MORNING - DAY)  # the clock had been set wrong


def test_a_database_on_a_server_names_the_servers_own_tools(postgres: PostgresServer) -> None:
    with pytest.raises(OnServerError, match="pg_dump writes a copy of it, pg_restore brings one back"):
        file_to_copy(postgres.empty_database())


def test_copies_are_kept_for_a_week_each_then_one_a_week_for_eight() -> None:
    now = datetime(2026, 12, 6, 20, tzinfo=UTC)  # a Sunday
    daily = [Backup(Path(f"{age}"), now - age * DAY) for age in range(120)]
    ages = [(now - copy.made_at).days for copy in kept(daily, now)]

    assert ages == [0, 1, 2, 3, 4, 5, 6, 7, 14, 21, 28, 35, 42, 49, 56]


@pytest.mark.parametrize("seed", range(5))
def test_no_clock_that_was_set_wrong_takes_the_newest_three_away(seed: int) -> None:
    random = Random(seed)
    copies = [Backup(Path(str(n)), MORNING + timedelta(hours=random.uniform(-1e5, 1e5))) for n in range(20)]
    newest = sorted(copies, key=lambda copy: copy.made_at, reverse=True)[:3]
    stay = kept(copies, MORNING + timedelta(days=random.uniform(-3000, 3000)))

    assert set(newest) <= set(stay)


def test_the_copy_just_made_stays_though_all_others_are_of_the_future(floor: Store, file: Path) -> None:
    backups = Backups(file)
    for years in range(1, 6):
        backups.make(MORNING + years * 365 * DAY)
    newest = backups.make(MORNING)

    assert newest in backups.all()


def test_old_copies_and_unfinished_ones_go_with_the_next_one(floor: Store, file: Path) -> None:
    backups = Backups(file)
    old = [backups.make(MORNING + days * DAY).file for days in range(5)]
    cut_off = backups.folder / "floor.20261103T080000Z.db.unfinished"
    of_another = backups.folder / "notes.txt"
    for left in (cut_off, of_another):
        left.touch()
    backups.make(MORNING + 100 * DAY)

    assert [file.exists() for file in old] == [False, False, False, True, True]
    assert not cut_off.exists()
    assert of_another.exists()


def test_a_clock_held_still_makes_no_second_copy_due(floor: Store, file: Path, clock: HeldClock) -> None:
    Backups(file).make(clock.utc_now())
    assert not Backups(file).is_due(clock.utc_now())


def test_what_a_damaged_record_says_names_restore(floor: Store, file: Path, open_store: OpenStore) -> None:
    with closing(sqlite3.connect(file)) as opened:
        opened.executescript("UPDATE garments SET wearer = 'Inez' WHERE n = 1")
    with pytest.raises(DamagedRecordError, match="floorapp restore"):
        floor.garment(opened_code(file))


def opened_code(file: Path) -> str:
    with closing(sqlite3.connect(file)) as opened:
        return str(opened.execute("SELECT code FROM garments WHERE n = 1").fetchone()[0])
