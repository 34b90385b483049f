"""How fast the store is with 100,000 garments in it, against one bare SQLite commit in the same run.

Run as: python -m tests.bench.bench_store
"""

import sqlite3
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass, replace
from pathlib import Path
from random import Random

from models.clock import SystemClock
from models.garment.events import Closed, FindingKind, Found, TakenUp
from models.job.job import GarmentOrder
from models.store.store import Store
from tests.sample_jobs import crew_vest_job, crew_vest_plan

ROOT = Path(__file__).parents[2]
BATCHES = 2000
GARMENTS_EACH = 50
IN_WORK = 20
SAMPLES = 2000
SIZES = ("S", "M", "L", "XL", "XXL")
FOUND = Found(FindingKind.LIFT, ("anchor",))

TAP_OVER_COMMIT_MS = 5.0
READ_MS = 5.0
OPEN_MS = 400.0


@dataclass(frozen=True, slots=True)
class Timing:
    """Median and 95th percentile of one thing done many times [ms]."""

    name: str
    p50_ms: float
    p95_ms: float

    def __str__(self) -> str:
        return f"{self.name:<50}{self.p50_ms:>9.2f}{self.p95_ms:>9.2f}"


def main() -> int:
    with tempfile.TemporaryDirectory() as folder:
        url = f"sqlite:///{folder}/floor.db"
        with closing(Store.open(url, SystemClock(), Random(1))) as store:
            fill(store)
            load = timed("a batch of 5,000 garments loaded", 3, lambda k: load_batch(store, f"BIG-{k}", 5000))
            codes = some_codes(store)
            tap = timed("a tap of two events recorded", SAMPLES, tapper(store, codes))
            read = timed("a garment read by its tag", SAMPLES, lambda k: store.garment(codes[k % len(codes)]))
            lists = timed("the rest rail and the garments in work", 200, lambda _: read_lists(store))
            counts = timed("all batches counted", 20, lambda _: store.batches())
        opened = timed("a program that opens it, start and imports included", 7, lambda _: open_anew(url))
        bare = bare_commit(Path(folder) / "bare.db")
    print(f"{BATCHES * GARMENTS_EACH:,} garments in {BATCHES:,} batches{'p50 ms':>25}{'p95 ms':>9}")
    print(*(bare, tap, read, lists, counts, load, opened), sep="\n")
    return report(
        {
            f"a tap takes at most {TAP_OVER_COMMIT_MS:g} ms more than a bare commit": (
                tap.p95_ms - bare.p95_ms <= TAP_OVER_COMMIT_MS
            ),
            f"a garment is read within {READ_MS:g} ms": read.p95_ms <= READ_MS,
            f"the database is open within {OPEN_MS:g} ms": opened.p95_ms <= OPEN_MS,
        }
    )


def report(goals: dict[str, bool]) -> int:
    """Each goal with its verdict (p95); 0 if all are met, else 1."""
    for goal, is_met in goals.items():
        print("met:   " if is_met else "MISSED:", goal)
    return 0 if all(goals.values()) else 1


def timed(name: str, times: int, do: Callable[[int], object]) -> Timing:
    taken_ms = []
    for k in range(times):
        start = time.perf_counter()
        do(k)
        taken_ms.append((time.perf_counter() - start) * 1000)
    taken_ms.sort()
    return Timing(name, taken_ms[times // 2], taken_ms[times * 95 // 100])


def fill(store: Store) -> None:
    """Many batches; in the newest of them, two garments each are in work."""
    for k in range(BATCHES):
        load_batch(store, f"LC-{k:04}", GARMENTS_EACH)
    for k in range(BATCHES - IN_WORK, BATCHES):
        for row in store.garments(f"LC-{k:04}")[:2]:
            store.record(store.garment(row.code), [TakenUp(), Closed(15)], "press 1", "Ines")


def load_batch(store: Store, reference: str, count: int) -> None:
    orders = tuple(GarmentOrder(n, SIZES[n % 5], f"Wearer {n}") for n in range(1, count + 1))
    store.add_batch(replace(crew_vest_job(), reference=reference, garments=orders), crew_vest_plan())


def some_codes(store: Store) -> list[str]:
    references = [f"LC-{k:04}" for k in Random(3).sample(range(BATCHES), 8)]
    return [row.code for reference in references for row in store.garments(reference)]


def tapper(store: Store, codes: list[str]) -> Callable[[int], object]:
    """Taps on the garments in turn, as they are in the hands of the station."""
    garments = [store.garment(code) for code in codes]
    garments = [garment for garment in garments if not garment.log]

    def tap(k: int) -> None:
        which = k % len(garments)
        garments[which] = store.record(garments[which], [TakenUp(), FOUND], "press 1", "Ines")

    return tap


def read_lists(store: Store) -> None:
    store.resting()
    store.in_work("press 1")


def open_anew(url: str) -> None:
    program = (
        "from random import Random; from models.clock import SystemClock;"
        f"from models.store.store import Store; Store.open({url!r}, SystemClock(), Random(1))"
    )
    subprocess.run([sys.executable, "-c", program], check=True, cwd=ROOT)


def bare_commit(file: Path) -> Timing:
    """One row straight through the driver, with the store's own settings."""
    with closing(sqlite3.connect(file, isolation_level=None)) as connection:
        connection.execute("PRAGMA journal_mode = WAL")
        connection.execute("PRAGMA synchronous = FULL")
        connection.execute("CREATE TABLE taps (what TEXT)")
        commit = "BEGIN IMMEDIATE", "INSERT INTO taps VALUES ('closed')", "COMMIT"
        return timed(
            "one bare SQLite commit", SAMPLES, lambda _: [connection.execute(step) for step in commit]
        )


if __name__ == "__main__":
    sys.exit(main())
