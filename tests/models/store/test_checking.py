"""`floorapp check` finds what is wrong in a database, names it, and changes nothing."""

import sqlite3
from contextlib import closing
from pathlib import Path
from random import Random

import psycopg
import pytest

from models.batch.events import WearerCorrected
from models.garment.events import Held, Passed
from models.store.checking import faults_of
from models.store.database import Database, opened_to_look
from models.store.errors import CannotOpenError, NewerDatabaseError, NotOurDatabaseError
from models.store.store import Store
from tests.held_clock import HeldClock
from tests.models.store.conftest import OpenStore
from tests.models.store.taps import first_garment, tap
from tests.models.store.test_cached_state import tap_or_take_back
from tests.models.store.test_damaged_records import (
    EVENTS_DAMAGED,
    GARMENTS_DAMAGED,
    OF_FIRST,
    RECIPES_DAMAGED,
    UNGUARDED,
)
from tests.models.store.test_rests import load_rested, rested
from tests.postgres_server import PostgresServer

OTHER_SECONDS = f"UPDATE events SET data = replace(data, '15', '51') {OF_FIRST} AND seq = 2"
UNGUARDED_BATCH = "DROP TRIGGER batch_events_are_not_removed;"
FIRST = "garment 1 of batch LC-0147"
SAYS_ANOTHER = {
    "UPDATE garments SET state = 'idle' WHERE n = 1": f"{FIRST}: its list says another state than its log",
    "UPDATE garments SET station = 'press 9' WHERE n = 1": "another station than its log",
    "UPDATE garments SET rest_ends_at = updated_at WHERE n = 1": "another end of its rest than its log",
    "DELETE FROM garments WHERE n = 2": "garment 2 of batch LC-0147 is not there",
    "DROP TRIGGER events_are_not_replaced": "its guard events_are_not_replaced is not there",
    "UPDATE rests SET rested_s = 1.5": f"{FIRST}: the rests learned from it are not those of its log",
    "UPDATE rests SET told = 'perhaps'": "the rests learned from it are not those of its log",
    "UPDATE batches SET checksum = 'x'": "batch LC-0147 is damaged",
    "DROP TRIGGER batch_events_are_not_removed": "its guard batch_events_are_not_removed is not there",
    "UPDATE garments SET sought = '' WHERE n = 1": f"{FIRST}: it cannot be found by its name, number or code",
    "DELETE FROM rests": "the rests learned from it are not those of its log",
    "UPDATE shop SET code = 'ZZ'": "the shop's code is not what its tags begin with",
}
RECORDS_DAMAGED = EVENTS_DAMAGED | GARMENTS_DAMAGED | RECIPES_DAMAGED | {"other content": OTHER_SECONDS}


@pytest.fixture
def worked(open_store: OpenStore, url: str, clock: HeldClock) -> Store:
    """Two vests, one of which has rested and been found warm; on either database."""
    return worked_store(open_store, url, clock)


@pytest.fixture
def file(open_store: OpenStore, sqlite_url: str, clock: HeldClock, tmp_path: Path) -> Path:
    """The same in a file, closed."""
    worked_store(open_store, sqlite_url, clock).close()
    return tmp_path / "floor.db"


def worked_store(open_store: OpenStore, url: str, clock: HeldClock) -> Store:
    store = open_store(url)
    load_rested(store, garments=2)
    passed = tap(store, rested(store, clock, first_garment(store)), Passed())
    tap(store, passed, Held("the foam is short"))
    return store


def test_a_sound_database_has_no_faults(worked: Store, url: str) -> None:
    with closing(Database(url)) as database:
        assert faults_of(database) == ()


@pytest.mark.parametrize("seed", range(4))
def test_whatever_is_tapped_the_lists_and_rests_say_what_the_logs_say(
    open_store: OpenStore, sqlite_url: str, clock: HeldClock, seed: int
) -> None:
    store, random = open_store(sqlite_url), Random(seed)
    load_rested(store, garments=3)
    for _ in range(60):
        clock.advance(random.random() * 100)
        code = random.choice(store.garments("LC-0147")).code
        tap_or_take_back(store, store.garment(code), random)
    with closing(Database(sqlite_url)) as database:
        assert faults_of(database) == ()


def test_the_garments_are_counted_while_they_are_checked(worked: Store, url: str) -> None:
    seen: list[tuple[int, int]] = []
    with closing(Database(url)) as database:
        faults_of(database, lambda done, of: seen.append((done, of)))

    assert seen == [(n, len(seen)) for n in range(1, len(seen) + 1)]
    assert len(seen) == len(worked.garments("LC-0147"))


@pytest.mark.parametrize(("change", "told"), SAYS_ANOTHER.items(), ids=SAYS_ANOTHER)
def test_what_is_other_than_the_log_tells_is_named(file: Path, change: str, told: str) -> None:
    assert told in "\n".join(faults_after(file, change))


@pytest.mark.parametrize("change", RECORDS_DAMAGED.values(), ids=RECORDS_DAMAGED)
def test_each_damaged_record_is_named(file: Path, change: str) -> None:
    told = faults_after(file, UNGUARDED + change)

    assert any("of batch LC-0147 is damaged" in line for line in told)
    assert not any("Wearer" in line for line in told)


def test_a_correction_that_its_log_does_not_tell_is_named(
    file: Path, open_store: OpenStore, sqlite_url: str
) -> None:
    store = open_store(sqlite_url)
    code = store.garments("LC-0147")[0].code
    store.record_batch(store.batch("LC-0147"), WearerCorrected(code, "Ann", "7", "", ""), "press 1", "Ines")
    store.close()
    assert look(file) == ()

    told = faults_after(file, UNGUARDED_BATCH + "DELETE FROM batch_events; UPDATE batches SET seq = seq")
    assert any("the log of batch LC-0147 is damaged" in line for line in told)


@pytest.mark.parametrize("table", ["garments", "events", "rests", "shop"])
def test_a_page_that_the_disk_has_lost_is_told(file: Path, table: str) -> None:
    with closing(sqlite3.connect(file)) as opened:
        (page,) = opened.execute("SELECT rootpage FROM sqlite_master WHERE name = ?", (table,)).fetchone()
        (size,) = opened.execute("PRAGMA page_size").fetchone()
    with file.open("r+b") as opened:
        opened.seek((page - 1) * size)
        opened.write(b"\xff" * size)
    before = file.read_bytes()

    assert look(file)[0].startswith("the file: ")
    assert file.read_bytes() == before


def test_a_missing_guard_on_a_server_is_told(postgres: PostgresServer, open_store: OpenStore) -> None:
    url = postgres.empty_database()
    open_store(url)
    with psycopg.connect(url.replace("+psycopg", ""), autocommit=True) as connection:
        connection.execute("ALTER TABLE events DISABLE TRIGGER events_are_not_emptied")
    with closing(Database(url)) as database:
        assert "its guard events_are_not_emptied" in faults_of(database)[0]


def test_an_empty_file_and_one_of_another_program_are_refused(tmp_path: Path) -> None:
    file = tmp_path / "floor.db"
    file.touch()
    with pytest.raises(CannotOpenError, match="nothing is stored in it"):
        look(file)
    with closing(sqlite3.connect(file)) as other:
        other.execute("CREATE TABLE tides (at TEXT)")
    with pytest.raises(NotOurDatabaseError, match="another program"):
        look(file)


def test_a_database_that_has_lost_its_version_is_damaged_and_not_empty(
    file: Path, open_store: OpenStore, sqlite_url: str
) -> None:
    with pytest.raises(NotOurDatabaseError, match=r"the file is damaged.*floorapp restore"):
        faults_after(file, "DELETE FROM alembic_version")
    with pytest.raises(NotOurDatabaseError, match="the file is damaged"):
        open_store(sqlite_url)


def test_a_database_of_a_newer_version_asks_for_that_version(file: Path) -> None:
    with pytest.raises(NewerDatabaseError, match=r"a newer version .* has written it .*; update this one"):
        faults_after(file, "UPDATE alembic_version SET version_num = '9999'")


def test_a_database_of_an_older_version_is_not_called_well(file: Path) -> None:
    (told,) = faults_after(file, "UPDATE alembic_version SET version_num = '0004'")

    assert told.startswith("an older version of this program has written it")


def faults_after(file: Path, change: str) -> tuple[str, ...]:
    with closing(sqlite3.connect(file)) as opened:
        opened.executescript(change)
    return look(file)


def look(file: Path) -> tuple[str, ...]:
    with opened_to_look(f"sqlite:///{file}") as database:
        return faults_of(database)
