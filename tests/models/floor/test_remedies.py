"""What remedies do to the floor: who is called, what a scan says, which tags are printed."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from models.floor.calling import Caller
from models.floor.remedies import Remedies
from models.floor.reviewing import review_batch
from models.floor.work import FloorWork, Seat
from models.garment.cycle import State
from models.store.errors import BatchNotOpenError
from models.store.store import Store
from printables.batch_tags import tags_of_batch
from tests.held_clock import HeldClock
from tests.small_floor import codes_of, loaded_store, rested_vests

SEAT = Seat("Station 1", "Mette")
BATCH = "LC-0147"


@pytest.fixture
def clock() -> HeldClock:
    return HeldClock()


@pytest.fixture
def store(tmp_path: Path, clock: HeldClock) -> Iterator[Store]:
    store = loaded_store(tmp_path, clock, rested_vests(3))
    yield store
    store.close()


@pytest.fixture
def work(store: Store, clock: HeldClock) -> FloorWork:
    return FloorWork(store, clock, SEAT)


@pytest.fixture
def remedies(store: Store) -> Remedies:
    return Remedies(store, SEAT)


def test_a_garment_that_was_taken_out_is_not_called_until_it_is_put_back(
    work: FloorWork, remedies: Remedies, store: Store, clock: HeldClock
) -> None:
    first, second, third = codes_of(store)
    caller = Caller(store, clock, "Station 1")
    laying = work.take_up(work.find(first))
    for code in (second, third):
        remedies.take_out(store.garment(code), "no longer wanted")
    assert called(caller) == first
    out = remedies.take_out(store.garment(laying.row.code), "torn")
    assert caller.call() is None
    remedies.put_back(store.garment(out.row.code))
    assert called(caller) == first


def test_a_remake_is_called_in_the_place_of_the_spoiled_one(
    work: FloorWork, remedies: Remedies, store: Store, clock: HeldClock
) -> None:
    first, *others = codes_of(store)
    caller = Caller(store, clock, "Station 1")
    caller.call()
    spoiled = work.spoil(work.take_up(work.find(first)), "scorched")
    for code in others:
        remedies.take_out(store.garment(code), "no longer wanted")
    again = remedies.make_again(store.garment(spoiled.row.code))
    assert called(caller) == again


def test_a_batch_loaded_again_under_its_reference_is_called_by_its_new_tags_only(
    work: FloorWork, remedies: Remedies, store: Store, clock: HeldClock
) -> None:
    caller = Caller(store, clock, "Station 1")
    work.take_up(work.find(codes_of(store)[0]))
    assert called(caller) in codes_of(store)
    recipe = store.recipe(store.batch(BATCH).id)
    remedies.withdraw(store.batch(BATCH))
    assert caller.call() is None
    work.add_batch(recipe.job, recipe.plan)
    work.take_up(work.find(codes_of(store)[0]))
    assert called(caller) in codes_of(store)


def test_the_tag_of_a_batch_that_was_taken_back_says_so_when_scanned(
    work: FloorWork, remedies: Remedies, store: Store
) -> None:
    code = codes_of(store)[0]
    remedies.withdraw(store.batch(BATCH))
    with pytest.raises(
        BatchNotOpenError, match="taken back by Mette at Station 1; do not press this garment"
    ):
        work.pick_up(code)


def test_a_garment_that_was_taken_out_is_shown_when_scanned_but_not_taken_up(
    work: FloorWork, remedies: Remedies, store: Store
) -> None:
    code = codes_of(store)[0]
    remedies.take_out(store.garment(code), "no longer wanted")
    garment = work.pick_up(code).garment
    assert (garment.progress.state, garment.row.taken_out) == (State.IDLE, "no longer wanted")


def test_tags_are_printed_for_garments_in_the_batch_with_the_corrected_name(
    remedies: Remedies, store: Store
) -> None:
    first, second, _ = codes_of(store)
    remedies.take_out(store.garment(first), "no longer wanted")
    remedies.correct(store.garment(second), "Åse Berg", "12")
    added = remedies.add(store.batch(BATCH), "M", "Per", "")
    tags = tags_of_batch(store, BATCH)
    assert [tag.n for tag in tags] == [2, 3, 4]
    assert (tags[0].wearer, tags[0].number, tags[0].code) == ("Åse Berg", "12", second)
    assert (tags[2].code, tags[2].wearer, tags[2].of) == (added, "Per", 4)


def test_a_closed_batch_still_teaches_how_often_a_material_lifts(
    work: FloorWork, remedies: Remedies, store: Store
) -> None:
    for code in codes_of(store):
        work.spoil(work.take_up(work.find(code)), "scorched")
    head = remedies.close(store.batch(BATCH))
    lifts = review_batch(store, head).lifts_on_fabric
    assert lifts is not None
    assert lifts.batches == 1


def called(caller: Caller) -> str:
    call = caller.call()
    assert call is not None
    return call.row.code
