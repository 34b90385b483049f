"""The rests that the logs tell of are found by their kind, whatever batch and station they are from."""

from dataclasses import replace
from datetime import timedelta

import pytest

from models.garment.events import (
    AllPeeled,
    Closed,
    FindingKind,
    Found,
    Held,
    Opened,
    Passed,
    Peeled,
    Rested,
    RestEnded,
    TakenUp,
)
from models.heat.learned import RestKey, Told
from models.heat.piece_rest import PieceRest
from models.heat.places import REST_PLACE
from models.job.job import GarmentOrder, Peel
from models.store import rests
from models.store.records import StoredGarment
from models.store.store import Store
from tests.held_clock import MORNING, HeldClock
from tests.models.store.taps import first_garment, tap
from tests.sample_jobs import crew_vest_job, crew_vest_plan

FOAM = RestKey("raised-foam", "quilted polyamide", REST_PLACE)
ANCHOR = PieceRest("anchor", Peel.COLD, 30.0, 50.0, 80.0)


def load_rested(store: Store, reference: str = "LC-0147", garments: int = 1, fabric: str = "") -> None:
    """The sample batch with its rests estimated."""
    job = crew_vest_job()
    orders = tuple(GarmentOrder(n, "M") for n in range(1, garments + 1))
    cloth = replace(job.fabric, name=fabric or job.fabric.name)
    changed = replace(job, reference=reference, garments=orders, fabric=cloth)
    store.add_batch(changed, crew_vest_plan(), (), (ANCHOR,))


def rested(store: Store, clock: HeldClock, garment: StoredGarment, rested_s: float = 40.0) -> StoredGarment:
    """Through its first hit: at the check after so many seconds of rest."""
    garment = tap(store, garment, TakenUp(), Closed(15))
    clock.advance(15)
    garment = tap(store, garment, Opened(15), Peeled(("wave",), Peel.HOT), Rested(50))
    clock.advance(rested_s)
    return tap(store, garment, RestEnded(), Peeled(("anchor",), Peel.COLD), AllPeeled())


def seen(store: Store, key: RestKey = FOAM) -> list[tuple[float, Told]]:
    return [(rest.rested_s, rest.told) for rest in store.rests([key])]


def test_a_rest_is_seen_once_its_check_has_passed(store: Store, clock: HeldClock) -> None:
    load_rested(store)
    garment = rested(store, clock, first_garment(store))
    assert seen(store) == []
    tap(store, garment, Passed())
    (rest,) = store.rests([FOAM])
    assert (rest.estimate_s, rest.rested_s, rest.told) == (50.0, 40.0, Told.READY)
    assert rest.at == MORNING + timedelta(seconds=55)


def test_a_check_that_is_taken_back_takes_its_rest_with_it(store: Store, clock: HeldClock) -> None:
    load_rested(store)
    passed = tap(store, rested(store, clock, first_garment(store)), Passed())
    store.take_back(passed, "press 1", "Ines")
    assert seen(store) == []


def test_a_lift_that_is_found_later_changes_what_was_seen(store: Store, clock: HeldClock) -> None:
    load_rested(store)
    passed = tap(store, rested(store, clock, first_garment(store)), Passed())
    tap(store, passed, Found(FindingKind.LIFT, ("anchor",)), Held("lifts after all"))
    assert seen(store) == [(40.0, Told.LIFTED)]


def test_rests_of_all_batches_with_the_same_material_and_fabric_count(store: Store, clock: HeldClock) -> None:
    load_rested(store, "ONE")
    load_rested(store, "TWO")
    load_rested(store, "OTHER", fabric="canvas")
    for reference, rested_s in (("TWO", 45.0), ("ONE", 40.0), ("OTHER", 35.0)):
        tap(store, rested(store, clock, first_garment(store, reference), rested_s), Passed())
    assert [rested_s for rested_s, _ in seen(store)] == [45.0, 40.0]
    assert [rested_s for rested_s, _ in seen(store, replace(FOAM, fabric="canvas"))] == [35.0]


def test_only_the_latest_rests_count(store: Store, clock: HeldClock, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(rests, "LATEST", 2)
    load_rested(store, garments=3)
    for row, rested_s in zip(store.garments("LC-0147"), (30.0, 35.0, 40.0), strict=True):
        tap(store, rested(store, clock, store.garment(row.code), rested_s), Passed())
    assert [rested_s for rested_s, _ in seen(store)] == [35.0, 40.0]


def test_a_batch_whose_rests_were_never_estimated_teaches_nothing(store: Store, clock: HeldClock) -> None:
    store.add_batch(crew_vest_job(), crew_vest_plan())
    tap(store, rested(store, clock, first_garment(store)), Passed())
    assert seen(store) == []
