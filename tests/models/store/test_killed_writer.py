"""A station that is killed in mid-work loses no tap that it had confirmed."""

import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest

from models.garment.progress import fold
from models.store.store import Store
from tests.models.store.conftest import OpenStore
from tests.models.store.taps import load_vests

ROOT = Path(__file__).parents[3]


@pytest.mark.parametrize("confirmed_taps", [1, 20, 137])
def test_no_confirmed_tap_is_lost(store: Store, open_store: OpenStore, url: str, confirmed_taps: int) -> None:
    load_vests(store, sizes=("M", "L", "S"))
    codes = [row.code for row in store.garments("LC-0147")]
    confirmed = killed_after(confirmed_taps, url, codes)
    again = open_store(url)
    for code, seq in confirmed.items():
        assert len(again.garment(code).log) >= seq
    assert_every_tap_is_whole(again)


def test_the_file_is_sound_after_the_kill(tmp_path: Path, open_store: OpenStore, sqlite_url: str) -> None:
    store = open_store(sqlite_url)
    load_vests(store)
    killed_after(50, sqlite_url, [row.code for row in store.garments("LC-0147")])
    with closing(sqlite3.connect(tmp_path / "floor.db")) as connection:
        assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert connection.execute("PRAGMA foreign_key_check").fetchall() == []


def killed_after(confirmed_taps: int, url: str, codes: list[str]) -> dict[str, int]:
    """The last event confirmed of each garment, by a station killed while it goes on tapping."""
    confirmed: dict[str, int] = {}
    program = [sys.executable, "-m", "tests.models.store.endless_writer", url, *codes]
    with subprocess.Popen(program, cwd=ROOT, stdout=subprocess.PIPE, text=True) as writer:
        assert writer.stdout is not None
        for _ in range(confirmed_taps):
            code, seq = writer.stdout.readline().split()
            confirmed[code] = int(seq)
        writer.kill()
    return confirmed


def assert_every_tap_is_whole(store: Store) -> None:
    """Both events of each tap are there, and the lists say what the logs say."""
    recipe = store.recipe(store.batch("LC-0147").id)
    for row, log in store.logs("LC-0147"):
        assert [event.seq for event in log] == list(range(1, len(log) + 1))
        assert len(log) == 2 * len({event.tap for event in log})
        assert row.state == fold(recipe, log).state
