"""The columns that lists and counts are made from say what the fold of the log says, after any taps."""

from collections import Counter
from random import Random

import pytest

from models.garment.progress import fold
from models.store.errors import NothingToTakeBackError
from models.store.records import StoredGarment
from models.store.store import Store
from tests.held_clock import HeldClock
from tests.models.store.taps import load_vests, random_tap, tap

TAPS = 60


@pytest.mark.parametrize("seed", range(6))
def test_lists_and_counts_agree_with_the_log_after_random_taps(
    store: Store, clock: HeldClock, seed: int
) -> None:
    head = load_vests(store, sizes=("M", "L", "M"))
    random = Random(seed)
    for _ in range(TAPS):
        clock.advance(random.random() * 100)
        row = random.choice(store.garments("LC-0147"))
        kept = tap_or_take_back(store, store.garment(row.code), random)
        assert store.garment(row.code) == kept
    recipe = store.recipe(head.id)
    folded = [(row, fold(recipe, log)) for row, log in store.logs("LC-0147")]
    for row, progress in folded:
        assert (row.state, row.rest_ends_at, row.station) == (
            progress.state,
            progress.rest_ends_at,
            progress.station,
        )
    assert store.batches()[0].by_state == Counter(progress.state for _, progress in folded)


def tap_or_take_back(store: Store, garment: StoredGarment, random: Random) -> StoredGarment:
    what = random_tap(garment.progress, random)
    if what and random.random() < 0.7:
        return tap(store, garment, *what, station=random.choice(["press 1", "press 2"]))
    try:
        return store.take_back(garment, "press 3", "Tor")
    except NothingToTakeBackError:
        return garment
