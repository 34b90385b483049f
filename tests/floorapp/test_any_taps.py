"""Whatever is tapped in whatever order, the app says a line or goes on, and the record stays whole."""

from pathlib import Path
from random import Random

import pytest

from floorapp.screens.presenter import present
from models.store.store import Store
from tests.floorapp.random_taps import one_step
from tests.held_clock import HeldClock
from tests.small_floor import codes_of, flow_on, loaded_store

STEPS = 400


@pytest.mark.parametrize("seed", range(8))
def test_any_taps_in_any_order_leave_a_whole_record(seed: int, tmp_path: Path) -> None:
    """What a station goes on from is, after each tap, what another reads from the disk."""
    random, clock = Random(seed), HeldClock()
    store = loaded_store(tmp_path, clock)
    codes = codes_of(store)
    stations = [flow_on(store, clock, tmp_path, station=name) for name in ("Station 1", "Station 2")]
    elsewhere = Store.open(f"sqlite:///{tmp_path / 'floor.db'}", clock, Random(seed))
    for _ in range(STEPS):
        flow = random.choice(stations)
        before = flow.garment
        one_step(flow, clock, codes, random)
        present(flow)
        if flow.garment is not None and flow.garment is not before:
            assert flow.garment == elsewhere.garment(flow.garment.row.code)
    states = {code: elsewhere.garment(code) for code in codes}
    assert all(garment.row.state == garment.progress.state for garment in states.values())
    elsewhere.close()
    store.close()
