"""The rests that the logs tell of are found by their kind, whatever batch and station they are from."""

from dataclasses import replace
from datetime import datetime, timedelta
from random import Random

import pytest

from models.garment.cycle import ENDED, State
from models.garment.events import (
    AllPeeled,
    Closed,
    Completed,
    FindingKind,
    Found,
    Happening,
    Held,
    Opened,
    Passed,
    Peeled,
    Rested,
    RestEnded,
    TakenUp,
)
from models.job.job import GarmentOrder, Peel
from models.learning.learned import RestKey, RestObservation, Told
from models.learning.observations import rest_observations
from models.recipe.piece_rest import PieceRest
from models.recipe.places import Place
from models.store import rests
from models.store.records import StoredGarment
from models.store.store import Store
from tests.held_clock import MORNING, HeldClock
from tests.models.store.taps import first_garment, tap
from tests.sample_jobs import crew_vest_job, crew_vest_plan

FOAM = RestKey("raised-foam", "quilted polyamide", Place.TABLE)
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


def test_a_wait_until_warm_is_seen_apart_from_rests_until_cold(store: Store, clock: HeldClock) -> None:
    warm = PieceRest("wave", Peel.WARM, 10.0, 20.0, 30.0, place=Place.HUNG)
    store.add_batch(crew_vest_job(), crew_vest_plan(), (), (ANCHOR, warm))
    garment = tap(store, first_garment(store), TakenUp(), Closed(15))
    clock.advance(15)
    garment = tap(store, garment, Opened(15))
    clock.advance(12)
    off = [Peeled(("wave", "anchor"), Peel.WARM, Place.HUNG), AllPeeled(), Passed()]
    tap(store, garment, *off)
    until_warm = RestKey("glitter-film", "quilted polyamide", Place.HUNG, Peel.WARM)
    assert seen(store, until_warm) == [(12.0, Told.WELL)]
    assert seen(store, replace(until_warm, until=Peel.COLD)) == seen(store) == []


@pytest.mark.parametrize("seed", range(4))
def test_what_is_kept_is_what_the_logs_say_after_any_taps(store: Store, clock: HeldClock, seed: int) -> None:
    load_rested(store, garments=3)
    random = Random(seed)
    for _ in range(60):
        clock.advance(random.random() * 30)
        row = random.choice(store.garments("LC-0147"))
        go_on_or_take_back(store, store.garment(row.code), random)
    recipe = store.recipe(store.batch("LC-0147").id)
    logs = [log for _, log in store.logs("LC-0147")]
    told = [rest for log in logs for rest in rest_observations(recipe, log)]
    assert told
    assert sorted(store.rests([FOAM]), key=by_time) == sorted(told, key=by_time)


def go_on_or_take_back(store: Store, garment: StoredGarment, random: Random) -> None:
    state = garment.progress.state
    if state in ENDED or (random.random() < 0.25 and garment.log):
        store.take_back(garment, "press 2", "Tor")
        return
    verdict: Happening = Completed() if garment.progress.is_last_step else Passed()
    found: list[Happening] = [Found(FindingKind.LIFT, ("anchor",))] if random.random() < 0.3 else []
    to_rest: list[Happening] = [Closed(15), Opened(15), Peeled(("wave",), Peel.HOT), Rested(50)]
    off: list[Happening] = [RestEnded(), Peeled(("anchor",), Peel.COLD), AllPeeled()]
    longer: list[Happening] = [Rested(20)]
    moves: dict[State, list[Happening]] = {
        State.IDLE: [TakenUp(), *to_rest],
        State.LAYING: to_rest,
        State.RESTING: random.choice((off, longer)),
        State.CHECKING: [*found, verdict],
    }
    tap(store, garment, *moves[state])


def by_time(rest: RestObservation) -> tuple[datetime, float]:
    return (rest.at, rest.rested_s)
