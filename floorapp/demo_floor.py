"""The demo's floor: two invented batches in a database of their own, and a flow on it."""

import random
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from floorapp.background import AtOnce
from floorapp.flow import Flow
from floorapp.planned_job import read_and_plan
from floorapp.set_up_flow import SetUpFlow
from models.clock import HeldClock
from models.demo import demo_job_path, second_demo_job_path

if TYPE_CHECKING:
    from models.store.store import Store

FIRST_MORNING = datetime(2026, 12, 7, 7, 30, tzinfo=UTC)
SEED = 1147
"""The demo's tag codes are drawn from this seed, so that its pictures are the same each time."""


@dataclass(frozen=True, slots=True)
class Demo:
    """A flow on a database of its own, on a held clock; `reference` is the batch to walk."""

    flow: Flow
    clock: HeldClock
    reference: str


def open_demo(database: Path) -> Demo:
    """A new database with the demo batches loaded; its long work is done at once."""
    from models.floor.work import FloorWork, Seat
    from models.store.store import Store

    clock = HeldClock(FIRST_MORNING)
    store = Store.open(f"sqlite:///{database}", clock, random.Random(SEED))
    reference = load_demo(store)
    work = FloorWork(store, clock, Seat("Station 1", "Mette"))
    set_up = SetUpFlow(work, AtOnce(), demo_job_path().parent, database.parent)
    return Demo(Flow(work, clock, set_up, AtOnce(), AtOnce()), clock, reference)


def load_demo(store: "Store") -> str:
    """Stores both demo batches and gives the reference of the one to walk."""
    for path in (second_demo_job_path(), demo_job_path()):
        planned = read_and_plan(path)
        batch = store.add_batch(planned.job, planned.plan, planned.heat_findings, planned.rests)
    return batch.reference
