"""A batch's review: its own lifts, and those of all batches on its fabric."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from models.floor import reviewing
from models.floor.reviewing import review_batch
from models.floor.work import FloorWork, Seat
from models.garment.events import FindingKind, Found
from models.job.job import Peel
from models.quality.review import LiftsOnFabric
from models.store.store import Store
from tests.held_clock import HeldClock
from tests.sample_jobs import crew_vest_plan, rested_recipe
from tests.small_floor import loaded_store


@pytest.fixture
def clock() -> HeldClock:
    return HeldClock()


@pytest.fixture
def store(tmp_path: Path, clock: HeldClock) -> Iterator[Store]:
    """Two batches on one fabric, one on another; of each the first vest is through its first hit."""
    store = loaded_store(tmp_path, clock, rested_recipe())
    add(store, "LC-0148", "quilted polyamide")
    add(store, "CANVAS", "canvas")
    for reference in ("LC-0147", "LC-0148", "CANVAS"):
        through_the_first_hit(store, clock, reference)
    yield store
    store.close()


def add(store: Store, reference: str, fabric: str) -> None:
    job = rested_recipe().job
    changed = replace(job, reference=reference, fabric=replace(job.fabric, name=fabric))
    store.add_batch(changed, crew_vest_plan(), (), rested_recipe().rests)


def through_the_first_hit(store: Store, clock: HeldClock, reference: str) -> None:
    """Its anchor is peeled warm, and lifts in LC-0148."""
    work = FloorWork(store, clock, Seat("Station 1", "Mette"))
    garment = work.close(work.take_up(work.find(store.garments(reference)[0].code)))
    clock.advance(15)
    garment = work.peel(work.peel(work.open(garment, 15), Peel.HOT), Peel.WARM)
    if reference == "LC-0148":
        work.accept(garment, Found(FindingKind.LIFT, ("anchor",)))
    else:
        work.pass_check(garment)


def lifts_of(store: Store, reference: str) -> LiftsOnFabric:
    lifts = review_batch(store, store.batch(reference)).lifts_on_fabric
    assert lifts is not None
    return lifts


def warm_foam(lifts: LiftsOnFabric) -> tuple[int, int]:
    (rate,) = [rate for rate in lifts.rates if rate.how == Peel.WARM]
    assert rate.material == "Raised foam film"
    return (rate.lifted, rate.of)


def test_a_batch_tells_its_own_lifts_beside_those_of_its_fabric(store: Store) -> None:
    review = review_batch(store, store.batch("LC-0147"))
    own = {rate.how: (rate.lifted, rate.of) for rate in review.lift_rates}

    assert own == {Peel.HOT: (0, 1), Peel.WARM: (0, 1)}
    assert warm_foam(lifts_of(store, "LC-0147")) == (1, 2)
    assert lifts_of(store, "LC-0147").batches == 2


def test_another_fabric_is_counted_by_itself(store: Store) -> None:
    lifts = lifts_of(store, "CANVAS")

    assert (lifts.fabric, lifts.batches, warm_foam(lifts)) == ("canvas", 1, (0, 1))


def test_once_enough_garments_have_been_read_no_older_batch_is(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(reviewing, "MOST_GARMENTS", 2)
    lifts = lifts_of(store, "LC-0147")

    assert (lifts.batches, warm_foam(lifts)) == (1, (1, 1))
