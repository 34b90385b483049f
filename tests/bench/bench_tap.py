"""From a tap to its durable event and the next phase drawn, with 100,000 garments stored.

    python -m tests.bench.bench_tap

Against one bare SQLite commit (WAL, synchronous=FULL) on the same disk in the same run.
Goal: p95 under 50 ms. Fails nothing.
"""

import sqlite3
import statistics
import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from pathlib import Path
from random import Random

from floorapp.screens.presenter import primary_of
from models.clock import HeldClock
from models.garment.cycle import State
from models.job.job import GarmentOrder
from models.store.store import Store
from tests.floorapp.driver import Driver
from tests.floorapp.press_operator import BETWEEN_TAPS_S, PressOperator, app_on
from tests.held_clock import MORNING
from tests.sample_jobs import rested_recipe

BATCHES, GARMENTS = 20, 5_000
TAPS = 300


def full_store(folder: Path) -> Store:
    recipe = rested_recipe()
    orders = tuple(GarmentOrder(n, "M", f"Wearer {n}") for n in range(1, GARMENTS + 1))
    store = Store.open(f"sqlite:///{folder / 'floor.db'}", HeldClock(MORNING), Random(1))
    for k in range(BATCHES):
        job = replace(recipe.job, reference=f"LC-{k:04d}", garments=orders)
        store.add_batch(job, recipe.plan, (), recipe.rests)
    return store


def bare_commits(folder: Path) -> list[float]:
    connection = sqlite3.connect(folder / "bare.db", isolation_level=None)
    connection.execute("PRAGMA journal_mode=WAL")
    connection.execute("PRAGMA synchronous=FULL")
    connection.execute("CREATE TABLE event (id INTEGER PRIMARY KEY, data TEXT)")
    return [timed(lambda: connection.execute("INSERT INTO event (data) VALUES ('tap')")) for _ in range(TAPS)]


def timed(work: Callable[[], object]) -> float:
    """Milliseconds."""
    started = time.perf_counter()
    work()
    return (time.perf_counter() - started) * 1e3


def taps(operator: PressOperator, codes: list[str]) -> list[float]:
    """Primary taps through garment after garment; laying and scanning are not taps of a phase."""
    from kivy.graphics.opengl import glFinish  # not before Kivy is configured

    times: list[float] = []
    for code in codes:
        operator.scan(code)
        while operator.flow.in_hand.progress.state != State.COMPLETE and len(times) < TAPS:
            _let_time_pass(operator)
            before = operator.flow.in_hand.progress.seq
            glFinish()  # the frame before the tap is drawn
            times.append(timed(partial(tap_primary, operator)))
            assert operator.flow.in_hand.progress.seq > before, "the tap did nothing"
            if operator.flow.in_hand.progress.ready_at is not None:
                operator.wait_for_the_rest()
                operator.scan(code)
    return times


def tap_primary(operator: PressOperator) -> None:
    """From the finger to the next phase on the screen."""
    from kivy.graphics.opengl import glFinish

    button = primary_of(operator.flow)
    if button is not None:
        operator.desk.act(button.action)
    operator.driver.frames()
    glFinish()  # the pixels are there, not only asked for


def _let_time_pass(operator: PressOperator) -> None:
    """A hit's seconds, and after them what a hand needs between two taps."""
    if operator.flow.in_hand.progress.state == State.PRESSING:
        operator.driver.advance(operator.flow.in_hand.progress.hit.dwell_s, step_s=5)
    operator.driver.advance(BETWEEN_TAPS_S, step_s=BETWEEN_TAPS_S)


def p95(values: list[float]) -> float:
    return statistics.quantiles(values, n=20)[-1]


def main() -> None:
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        store = full_store(folder)
        codes = [row.code for row in store.garments("LC-0007")[: TAPS // 5]]
        driver = Driver(lambda clock: app_on(store, folder, clock)).start()
        times = taps(PressOperator(driver), codes)
        bare = bare_commits(folder)
        driver.stop()
        store.close()
    print(f"{BATCHES * GARMENTS:,} garments stored, {len(times)} taps")
    print(f"bare commit: median {statistics.median(bare):.2f} ms, p95 {p95(bare):.2f} ms")
    ratio = statistics.median(times) / statistics.median(bare)
    print(f"tap: median {statistics.median(times):.1f} ms, p95 {p95(times):.1f} ms (goal 50), {ratio:.0f} x")


if __name__ == "__main__":
    main()
