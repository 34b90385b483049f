"""Copies of a database in use, cut or damaged anywhere: each is read as it was, or refused in a line."""

import shutil
from dataclasses import dataclass
from pathlib import Path
from random import Random

import pytest

from models.errors import FloorError
from models.garment.events import Event
from models.garment.progress import Recipe
from models.store.records import BatchHead
from models.store.store import Store
from tests.floorapp.random_taps import one_step
from tests.held_clock import HeldClock
from tests.small_floor import codes_of, flow_on, loaded_store, rested_vests

TAPS, COPIES = 150, 150


@dataclass(frozen=True)
class Held:
    """What a database holds, as far as it never changes; and the logs, by tag code."""

    batch: BatchHead
    recipe: Recipe
    garments: list[tuple[object, ...]]
    logs: dict[str, tuple[Event, ...]]


@dataclass(frozen=True)
class Floor:
    """One floor's files while a station uses them and after it has closed them, and what they hold."""

    in_use: Path
    put_away: Path
    holds: Held


@pytest.fixture(scope="module")
def floor(tmp_path_factory: pytest.TempPathFactory) -> Floor:
    folder = tmp_path_factory.mktemp("floor")
    random, clock = Random(1), HeldClock()
    store = loaded_store(folder, clock, rested_vests(8))
    flow, codes = flow_on(store, clock, folder), codes_of(store)
    for _ in range(TAPS):
        one_step(flow, clock, codes, random)
    in_use = copied(folder, tmp_path_factory.mktemp("copy") / "in-use")
    holds = held_by(store)
    store.close()
    assert (in_use / "floor.db-wal").stat().st_size > 0
    return Floor(in_use, copied(folder, in_use.with_name("put-away")), holds)


def held_by(store: Store) -> Held:
    batch, logs = store.batch("LC-0147"), dict(store.logs("LC-0147"))
    garments = [(row.code, row.n, row.size, row.wearer, row.number) for row in logs]
    return Held(batch, store.recipe(batch.id), garments, {row.code: log for row, log in logs.items()})


def read_again(folder: Path) -> Held | None:
    """All that the copy holds; None where it is refused, which takes one line."""
    try:
        store = Store.open(f"sqlite:///{folder / 'floor.db'}", HeldClock(), Random(2))
        try:
            return held_by(store)
        finally:
            store.close()
    except FloorError as refusal:
        assert "\n" not in str(refusal)  # noqa: PT017 - most copies are not refused
        return None


def copied(files: Path, folder: Path) -> Path:
    shutil.rmtree(folder, ignore_errors=True)
    return Path(shutil.copytree(files, folder))


def assert_begins_like(found: Held, whole: Held) -> None:
    """Nothing is other than it was. A damaged garment may be left out; of a log the end may be missing."""
    assert (found.batch, found.recipe) == (whole.batch, whole.recipe)
    assert set(found.garments) <= set(whole.garments)
    for code, log in found.logs.items():
        assert log == whole.logs[code][: len(log)]


def ends_with_a_tap(log: tuple[Event, ...], whole: tuple[Event, ...]) -> bool:
    """Whether no tap is there by half."""
    return len(log) in {0, len(whole)} or log[-1].tap != whole[len(log)].tap


def test_a_write_ahead_log_cut_anywhere_leaves_whole_taps(floor: Floor, tmp_path: Path) -> None:
    """As after a loss of power: what is there is the beginning of each log."""
    size = (floor.in_use / "floor.db-wal").stat().st_size
    for seed in range(COPIES):
        copy = copied(floor.in_use, tmp_path / "copy")
        with (copy / "floor.db-wal").open("r+b") as wal:
            wal.truncate(Random(seed).randrange(size))
        found = read_again(copy)
        if found is not None:
            assert_begins_like(found, floor.holds)
            assert all(ends_with_a_tap(log, floor.holds.logs[code]) for code, log in found.logs.items())


def test_changed_bytes_of_a_write_ahead_log_are_never_read(floor: Floor, tmp_path: Path) -> None:
    assert_never_misread(floor, floor.in_use, "floor.db-wal", tmp_path)


def test_changed_bytes_of_a_database_are_never_read_as_something_else(floor: Floor, tmp_path: Path) -> None:
    assert_never_misread(floor, floor.put_away, "floor.db", tmp_path)


def assert_never_misread(floor: Floor, files: Path, name: str, folder: Path) -> None:
    found = [read_again(changed(seed, copied(files, folder / "copy"), name)) for seed in range(COPIES)]
    for held in found:
        if held is not None:
            assert_begins_like(held, floor.holds)
    assert any(held is not None for held in found)


def changed(seed: int, folder: Path, name: str) -> Path:
    """The folder, with some bytes of that file overwritten."""
    random = Random(seed)
    size = (folder / name).stat().st_size
    with (folder / name).open("r+b") as file:
        for _ in range(random.choice([1, 1, 8, 200])):
            file.seek(random.randrange(size))
            file.write(bytes([random.randrange(256)]))
    return folder
