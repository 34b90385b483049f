"""Which garment the floor calls next, and when its batches will be done."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from models.floor.calling import Call, Caller
from models.floor.work import FloorWork, Seat
from models.garment.cycle import State
from models.job.job import GarmentOrder, Peel
from models.rotation.simulation.simulator import Act
from models.store.records import StoredGarment
from models.store.store import Store
from tests.held_clock import HeldClock
from tests.sample_jobs import rested_recipe
from tests.small_floor import codes_of, loaded_store

VESTS = 4
HANDS_S = 20.0


@pytest.fixture
def clock() -> HeldClock:
    return HeldClock()


@pytest.fixture
def store(tmp_path: Path, clock: HeldClock) -> Iterator[Store]:
    """Four vests, each with a cold peel after its first hit, which rests 70 s."""
    orders = tuple(GarmentOrder(n, "M") for n in range(1, VESTS + 1))
    recipe = rested_recipe()
    store = loaded_store(tmp_path, clock, replace(recipe, job=replace(recipe.job, garments=orders)))
    yield store
    store.close()


@pytest.fixture
def work(store: Store, clock: HeldClock) -> FloorWork:
    return FloorWork(store, clock, Seat("Station 1", "Mette"))


@pytest.fixture
def caller(store: Store, clock: HeldClock) -> Caller:
    return Caller(store, clock, "Station 1")


def called(caller: Caller) -> Call:
    call = caller.call()
    assert call is not None
    return call


def under_press(work: FloorWork, clock: HeldClock, code: str) -> StoredGarment:
    """Laid, and the press closed on it."""
    garment = work.take_up(work.find(code))
    clock.advance(HANDS_S)
    return work.close(garment)


def to_rest(work: FloorWork, clock: HeldClock, code: str) -> StoredGarment:
    garment = under_press(work, clock, code)
    clock.advance(garment.progress.hit.dwell_s)
    opened = work.open(garment, garment.progress.hit.dwell_s)
    clock.advance(HANDS_S / 4)
    return work.peel(opened, Peel.HOT)


def test_a_fresh_floor_calls_its_first_garment_and_foretells_nothing_yet(
    caller: Caller, store: Store
) -> None:
    call = called(caller)
    assert (call.row.code, call.act, call.hit_label) == (codes_of(store)[0], Act.PRESS, "1")
    assert caller.outlook() is None


def test_while_one_rests_another_is_called_to_the_press(
    work: FloorWork, caller: Caller, clock: HeldClock, store: Store
) -> None:
    first, *others = codes_of(store)
    to_rest(work, clock, first)

    call = called(caller)
    assert call.row.code in others
    assert (call.act, call.hit_label, call.at) == (Act.PRESS, "1", clock.utc_now())


def test_when_all_the_others_rest_the_next_is_called_for_the_end_of_its_rest(
    work: FloorWork, caller: Caller, clock: HeldClock, store: Store
) -> None:
    codes = codes_of(store)
    for code in codes[:-1]:
        work.hold(work.find(code), "a kit is missing")
    resting = to_rest(work, clock, codes[-1])

    call = called(caller)
    assert (call.row.code, call.act, call.at) == (codes[-1], Act.FINISH, resting.progress.rest_ends_at)


def test_what_has_rested_is_called_while_the_press_is_closed(
    work: FloorWork, caller: Caller, clock: HeldClock, store: Store
) -> None:
    first, second, *_ = codes_of(store)
    to_rest(work, clock, first)
    clock.advance(70)
    under_press(work, clock, second)

    call = called(caller)
    assert (call.row.code, call.act, call.at) == (first, Act.FINISH, clock.utc_now())
    assert "there is time before the press opens" in call.why


def test_what_is_held_or_ended_is_not_called(
    work: FloorWork, caller: Caller, clock: HeldClock, store: Store
) -> None:
    codes = codes_of(store)
    for code in codes[:-1]:
        work.hold(work.find(code), "a kit is missing")
    work.spoil(work.find(codes[0]), "torn")

    assert called(caller).row.code == codes[-1]


def test_what_another_station_has_just_taken_up_is_not_called_here(
    work: FloorWork, caller: Caller, clock: HeldClock, store: Store
) -> None:
    """Both stations would otherwise lay the same vest, the first of four that are alike."""
    first, second, *_ = codes_of(store)
    other = FloorWork(store, clock, Seat("Station 2", "Tor"))
    other.take_up(other.find(first))

    assert called(caller).row.code == second


def test_what_lies_where_another_station_left_it_an_hour_ago_is_called_again(
    work: FloorWork, caller: Caller, clock: HeldClock, store: Store
) -> None:
    first, *_ = codes_of(store)
    other = FloorWork(store, clock, Seat("Station 2", "Tor"))
    other.take_up(other.find(first))
    clock.advance(3600)

    assert called(caller).row.code == first


def test_a_rest_that_the_floor_has_taught_is_the_one_that_is_reckoned_with(
    work: FloorWork, caller: Caller, clock: HeldClock, store: Store
) -> None:
    """Three vests were cold after 30 s; the fourth is called for then, not for the estimated 70 s."""
    *before, last = codes_of(store)
    for code in before:
        resting = to_rest(work, clock, code)
        clock.advance(30)
        work.pass_check(work.peel(resting, Peel.COLD))
        work.hold(work.find(code), "later")
    closed = under_press(work, clock, last)
    assert closed.progress.state == State.PRESSING

    call = called(caller)
    learned_s = (call.at - clock.utc_now()).total_seconds()
    assert call.row.code == last
    assert learned_s < closed.progress.hit.dwell_s + 60


def test_the_batch_has_an_end_within_a_range_that_rests_on_what_was_measured(
    work: FloorWork, caller: Caller, clock: HeldClock, store: Store
) -> None:
    first, *_ = codes_of(store)
    to_rest(work, clock, first)

    outlook = caller.outlook()
    assert outlook is not None
    ends = outlook.ends["LC-0147"]
    assert clock.utc_now() < ends.low <= ends.median <= ends.high
    assert outlook.measured == 2  # laid once, taken off once


def test_a_slower_floor_is_done_later(
    work: FloorWork, caller: Caller, clock: HeldClock, store: Store
) -> None:
    first, second, *_ = codes_of(store)
    to_rest(work, clock, first)
    quick = caller.outlook()
    work.take_up(work.find(second))
    clock.advance(200)
    work.close(work.find(second))
    slow = caller.outlook()

    assert quick is not None
    assert slow is not None
    assert slow.ends["LC-0147"].median > quick.ends["LC-0147"].median


def test_pressing_each_vest_whole_takes_longer_than_the_order_that_is_called(
    work: FloorWork, caller: Caller, clock: HeldClock, store: Store
) -> None:
    to_rest(work, clock, codes_of(store)[0])

    outlook = caller.outlook()
    assert outlook is not None
    assert outlook.passes.whole_s > outlook.passes.best.course.end_s + 100


def test_only_what_has_moved_is_read_again(
    work: FloorWork, caller: Caller, clock: HeldClock, store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    first, second, *_ = codes_of(store)
    to_rest(work, clock, first)
    to_rest(work, clock, second)
    caller.call()
    read: list[str] = []
    reading = store.garment
    moved = reading(second)

    def noted(code: str) -> StoredGarment:
        read.append(code)
        return reading(code)

    monkeypatch.setattr(store, "garment", noted)
    work.hold(moved, "a corner lifts")
    caller.call()

    assert read == [second]
