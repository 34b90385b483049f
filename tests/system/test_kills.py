"""A hundred stations are killed while they tap: no confirmed tap is lost, and the record stays whole."""

import os
import signal
import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from random import Random

from floorapp.screens.presenter import present
from models.garment.cycle import State
from models.garment.progress import fold
from models.store.store import Store
from tests.held_clock import HeldClock
from tests.postgres_server import running_server
from tests.small_floor import codes_of, flow_on, loaded_store, rested_vests

ROOT = Path(__file__).parents[2]
MOST_TAPS, VESTS = 25, 12


@dataclass
class Stations:
    """Begins stations in a process of their own; `confirmed` is the last tap that was, by tag code."""

    process: "subprocess.Popen[str]"
    confirmed: dict[str, int] = field(default_factory=dict)

    def kill_one(self, seed: int) -> None:
        """A station taps so many times, drawn from the seed, and is killed while it goes on."""
        self._say(f"{seed}")
        pid = int(self._hear().removeprefix("pid "))
        for _ in range(Random(seed).randrange(MOST_TAPS)):
            self._note(self._hear())
        os.kill(pid, signal.SIGKILL)
        while (line := self._hear()) != "gone":
            self._note(line)

    def _note(self, line: str) -> None:
        code, seq = line.split()
        self.confirmed[code] = max(int(seq), self.confirmed.get(code, 0))

    def _say(self, line: str) -> None:
        assert self.process.stdin is not None
        self.process.stdin.write(f"{line}\n")
        self.process.stdin.flush()

    def _hear(self) -> str:
        assert self.process.stdout is not None
        return self.process.stdout.readline().strip()


@contextmanager
def stations_at(url: str) -> Iterator[Stations]:
    program = [sys.executable, "-m", "tests.system.tapping_station", url]
    pipe = subprocess.PIPE
    with subprocess.Popen(program, cwd=ROOT, stdin=pipe, stdout=pipe, text=True) as process:
        yield Stations(process)


def assert_whole(store: Store, confirmed: dict[str, int]) -> None:
    """Every confirmed tap is there, the log has no gap, and the lists say what the log says."""
    batch = store.batch("LC-0147")
    for row, log in store.logs("LC-0147"):
        assert [event.seq for event in log] == list(range(1, len(log) + 1))
        assert len(log) >= confirmed.get(row.code, 0)
        assert row.state == fold(store.recipe_of_size(batch.id, row.size), log).state


def assert_opens_at_its_place(store: Store, clock: HeldClock, folder: Path) -> None:
    """Each garment opens where it stands; one that is under a press asks how the hit ended."""
    flow = flow_on(store, clock, folder, station="Afterwards")
    for code in codes_of(store):
        flow.scan(code)
        present(flow)
        assert flow.in_hand.progress == store.garment(code).progress
        assert flow.is_interrupted == (flow.in_hand.progress.state == State.PRESSING)


def kill_and_look(url: str, store: Store, folder: Path, kills: int) -> None:
    clock = HeldClock()
    with stations_at(url) as stations:
        for seed in range(kills):
            stations.kill_one(seed)
            assert_whole(store, stations.confirmed)
            if seed % 10 == 0:
                assert_opens_at_its_place(store, clock, folder)
        assert sum(stations.confirmed.values()) > kills


def test_eighty_stations_are_killed_on_a_file(tmp_path: Path) -> None:
    store = loaded_store(tmp_path, HeldClock(), rested_vests(VESTS))
    kill_and_look(f"sqlite:///{tmp_path / 'floor.db'}", store, tmp_path, kills=80)
    store.close()
    with closing(sqlite3.connect(tmp_path / "floor.db")) as connection:
        assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert connection.execute("PRAGMA foreign_key_check").fetchall() == []


def test_twenty_stations_are_killed_on_a_server(tmp_path: Path) -> None:
    with running_server() as server:
        url, recipe = server.empty_database(), rested_vests(VESTS)
        store = Store.open(url, HeldClock(), Random(7))
        store.add_batch(recipe.job, recipe.plan, recipe.heat_findings, recipe.rests)
        kill_and_look(url, store, tmp_path, kills=20)
        store.close()
