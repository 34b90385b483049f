"""Two stations work the same garments on one server, which restarts in between: nobody loses a tap."""

from pathlib import Path
from random import Random

import pytest

from floorapp.flow import Flow
from models.garment.progress import fold
from models.store.store import Store
from tests.floorapp.random_taps import one_step
from tests.held_clock import HeldClock
from tests.postgres_server import running_server
from tests.small_floor import codes_of, flow_on, rested_vests

TAPS, RESTART_EVERY, GARMENTS = 240, 60, 6
CLOCKS_DIFFER_S = (0, 5, 600)


@pytest.mark.parametrize("apart_s", CLOCKS_DIFFER_S)
def test_two_stations_and_restarts_of_their_server(tmp_path: Path, apart_s: int) -> None:
    """Their clocks are apart, too: the order of a log is that of its numbers."""
    random, recipe = Random(apart_s), rested_vests(GARMENTS)
    with running_server() as server:
        url = server.empty_database()
        clocks = (HeldClock(), HeldClock())
        clocks[1].advance(apart_s)
        stores = [Store.open(url, clock, Random(n)) for n, clock in enumerate(clocks)]
        stores[0].add_batch(recipe.job, recipe.plan, recipe.heat_findings, recipe.rests)
        flows = [
            flow_on(store, clock, tmp_path, station=f"Station {n}")
            for n, (store, clock) in enumerate(zip(stores, clocks, strict=True))
        ]
        confirmed: dict[str, int] = {}
        for step in range(TAPS):
            if step % RESTART_EVERY == RESTART_EVERY - 1:
                server.restart()
            n = random.randrange(2)
            tap_once(flows[n], clocks[n], codes_of(stores[n]), random, confirmed)
        assert len(confirmed) == GARMENTS
        assert_nothing_is_lost(stores[0], confirmed)
        for store in stores:
            store.close()


def tap_once(
    flow: Flow, clock: HeldClock, codes: list[str], random: Random, confirmed: dict[str, int]
) -> None:
    """One tap or scan; what the screen shows afterwards was stored."""
    one_step(flow, clock, codes, random, may_fail=True)
    flow.look_around()
    if flow.garment is not None:
        code, seq = flow.garment.row.code, flow.garment.progress.seq
        confirmed[code] = max(seq, confirmed.get(code, 0))


def assert_nothing_is_lost(store: Store, confirmed: dict[str, int]) -> None:
    batch = store.batch("LC-0147")
    for row, log in store.logs("LC-0147"):
        assert len(log) >= confirmed[row.code]
        assert [event.seq for event in log] == list(range(1, len(log) + 1))
        assert row.state == fold(store.recipe_of_size(batch.id, row.size), log).state
