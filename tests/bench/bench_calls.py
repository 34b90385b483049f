"""How long the next garment and the forecast take at 2,000 garments in work, and at 2,000 more not begun.

Run: python -m tests.bench.bench_calls [garments in work]
Goals: a call within 0.3 s and 1 s of processor time; a forecast within 3 s; what nobody has begun is free.
Five batches of four hits at two heats; a quarter of the garments have each of no, one, two and three hits
behind them, and some rest. An event is one more garment that goes to rest.
"""

import sys
import tempfile
import time
from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass, replace
from datetime import timedelta
from pathlib import Path
from random import Random
from statistics import median

from floorapp.calm_collector import CalmCollector
from models.clock import SystemClock
from models.floor.calling import Caller
from models.floor.work import FloorWork, Seat
from models.garment.cycle import State
from models.garment.progress import Recipe
from models.job.job import GarmentOrder, Peel
from models.store.records import StoredGarment
from models.store.store import Store
from tests.held_clock import MORNING, HeldClock
from tests.sample_jobs import rested_recipe

IN_WORK, BATCHES, HITS = 2_000, 5, 4
RESTING = 20
EVENTS, OUTLOOKS = 8, 2
CALL_S, CALL_CPU_S, FORECAST_S = 0.3, 1.0, 3.0
SIZES = ("S", "M", "L", "XL")


@dataclass(frozen=True, slots=True)
class Took:
    """Wall and processor time [s] of one thing, done some times."""

    wall_s: tuple[float, ...]
    cpu_s: tuple[float, ...]

    def __str__(self) -> str:
        wall = f"{median(self.wall_s):6.2f} s, at most {max(self.wall_s):5.2f} s"
        return f"{wall}; processor {median(self.cpu_s):5.2f} s, at most {max(self.cpu_s):5.2f} s"


def taken(times: int, do: Callable[[], object], before: Callable[[], object] = lambda: None) -> Took:
    wall_s, cpu_s = [], []
    for _ in range(times):
        before()
        wall, cpu = time.perf_counter(), time.process_time()
        do()
        wall_s.append(time.perf_counter() - wall)
        cpu_s.append(time.process_time() - cpu)
    return Took(tuple(wall_s), tuple(cpu_s))


def recipe_of(reference: str, garments: int, due_in_days: int) -> Recipe:
    """Four hits at two heats; the first has a cold peel."""
    recipe = rested_recipe()
    first, again = recipe.plan.hits
    later = (replace(again, n=n, temperature_c=149 if n < 3 else 155) for n in range(2, HITS + 1))
    orders = tuple(GarmentOrder(n, SIZES[n % len(SIZES)]) for n in range(1, garments + 1))
    due = MORNING.date() + timedelta(days=due_in_days)
    job = replace(recipe.job, reference=reference, due=due, garments=orders)
    return replace(recipe, job=job, plan=replace(recipe.plan, hits=(first, *later)))


class Floor:
    """A floor with garments in work, tapped as by one person."""

    def __init__(self, folder: Path) -> None:
        self.clock = HeldClock()
        self.store = Store.open(f"sqlite:///{folder / 'floor.db'}", self.clock, Random(1))
        self.work = FloorWork(self.store, self.clock, Seat("Station 1", "Mette"))
        self.idle: list[str] = []

    def load(self, reference: str, garments: int, due_in_days: int) -> None:
        recipe = recipe_of(reference, garments, due_in_days)
        self.store.add_batch(recipe.job, recipe.plan, recipe.heat_findings, recipe.rests)

    def begin(self, reference: str) -> None:
        for row in self.store.garments(reference):
            if row.n % HITS == 0:
                self.idle.append(row.code)
            for _ in range(row.n % HITS):
                self.pass_one_hit(row.code)

    def pass_one_hit(self, code: str) -> None:
        garment = self.off_the_press(code)
        if garment.progress.state == State.RESTING:
            self.clock.advance(10)
            garment = self.work.peel(garment, Peel.COLD)
        self.clock.advance(8)
        self.work.pass_check(garment)

    def off_the_press(self, code: str) -> StoredGarment:
        self.clock.advance(15)
        garment = self.work.close(self.store.garment(code))
        self.clock.advance(garment.progress.hit.dwell_s)
        garment = self.work.open(garment, garment.progress.hit.dwell_s)
        self.clock.advance(10)
        return self.work.peel(garment, Peel.HOT) if garment.progress.state == State.PEELING else garment

    def one_more_rests(self) -> None:
        self.off_the_press(self.idle.pop())


def measure(floor: Floor, told: str) -> None:
    caller = Caller(floor.store, floor.clock, "Station 1")
    print(told)
    print(f"  first call after the start  {taken(1, caller.call)}")
    print(f"  forecast                    {taken(OUTLOOKS, caller.outlook)} (goal {FORECAST_S:g} s)")
    after = taken(EVENTS, caller.call, floor.one_more_rests)
    print(f"  call after an event         {after} (goal {CALL_S:g} s, processor {CALL_CPU_S:g} s)")


def main(in_work: int) -> None:
    CalmCollector(SystemClock()).begin()  # as in the app
    with tempfile.TemporaryDirectory() as folder:
        floor = Floor(Path(folder))
        with closing(floor.store):
            for n in range(BATCHES):
                floor.load(f"LC-{n}", in_work // BATCHES, due_in_days=7 + n)
                floor.begin(f"LC-{n}")
            for _ in range(RESTING):
                floor.one_more_rests()
            measure(floor, f"{in_work:,} garments in work in {BATCHES} batches")
            floor.load("LC-later", in_work, due_in_days=30)
            measure(floor, f"with {in_work:,} more that nobody has begun, due later")
            floor.load("LC-first", in_work, due_in_days=1)
            measure(floor, f"with {in_work:,} more that nobody has begun, due first")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else IN_WORK)
