"""A call stands until something has moved, whatever time passes and whatever an outlook finds meanwhile."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from random import Random

import pytest

from models.floor.calling import Call, Caller
from models.floor.floor_reading import FEW
from models.floor.work import FloorWork, Seat
from models.job.job import Peel
from models.rotation.simulation.simulator import Act
from models.store.records import StoredGarment
from models.store.store import Store
from tests.held_clock import HeldClock
from tests.small_floor import codes_of, loaded_store, rested_vests

VESTS = 14
TICK_S = 12


@pytest.fixture
def clock() -> HeldClock:
    return HeldClock()


@pytest.fixture
def store(tmp_path: Path, clock: HeldClock) -> Iterator[Store]:
    """The second hit is 6 degrees hotter than the first."""
    recipe = rested_vests(VESTS)
    first, second = recipe.plan.hits
    plan = replace(recipe.plan, hits=(first, replace(second, temperature_c=155)))
    store = loaded_store(tmp_path, clock, replace(recipe, plan=plan))
    yield store
    store.close()


@pytest.fixture
def work(store: Store, clock: HeldClock) -> FloorWork:
    return FloorWork(store, clock, Seat("Station 1", "Mette"))


def called(caller: Caller) -> Call:
    call = caller.call()
    assert call is not None
    return call


def off_the_press(work: FloorWork, clock: HeldClock, code: str) -> StoredGarment:
    garment = work.take_up(work.find(code))
    clock.advance(20)
    garment = work.close(garment)
    clock.advance(garment.progress.hit.dwell_s)
    return work.open(garment, garment.progress.hit.dwell_s)


def to_rest(work: FloorWork, clock: HeldClock, code: str) -> StoredGarment:
    opened = off_the_press(work, clock, code)
    clock.advance(5)
    return work.peel(opened, Peel.HOT)


def through_the_first_hit(work: FloorWork, clock: HeldClock, code: str) -> None:
    resting = to_rest(work, clock, code)
    clock.advance(70)
    work.pass_check(work.peel(resting, Peel.COLD))


@contextmanager
def other_station(folder: Path, clock: HeldClock, ahead_s: float) -> Iterator[FloorWork]:
    """A second station on the same file, whose clock is so many seconds ahead."""
    theirs = HeldClock(clock.utc_now() + timedelta(seconds=ahead_s))
    store = Store.open(f"sqlite:///{folder / 'floor.db'}", theirs, Random(8))
    yield FloorWork(store, theirs, Seat("Station 2", "Tor"))
    store.close()


@pytest.mark.parametrize("begun", range(2, 8))
def test_for_ten_minutes_without_a_tap_the_call_stays_the_same(
    work: FloorWork, clock: HeldClock, store: Store, begun: int
) -> None:
    """Rests end meanwhile, and an outlook is worked out every other tick."""
    codes = codes_of(store)
    for code in codes[: begun // 2]:
        through_the_first_hit(work, clock, code)
    for code in codes[begun // 2 : begun]:
        to_rest(work, clock, code)
    caller = Caller(store, clock, "Station 1")
    first = called(caller)

    calls = []
    for tick in range(600 // TICK_S):
        clock.advance(TICK_S)
        if tick % 10 == 0:
            caller.outlook()
        calls.append(caller.call())
    assert calls == [first] * len(calls)


def test_a_call_for_a_later_moment_names_the_same_garment_when_it_has_come(
    work: FloorWork, clock: HeldClock, store: Store
) -> None:
    *others, last = codes_of(store)
    for code in others:
        work.hold(work.find(code), "a kit is missing")
    to_rest(work, clock, last)
    caller = Caller(store, clock, "Station 1")
    before = called(caller)
    clock.advance((before.at - clock.utc_now()).total_seconds() + 1)

    assert (before.row.code, before.act) == (last, Act.FINISH)
    assert called(caller).row.code == last


def test_as_soon_as_a_garment_has_moved_another_is_called(
    work: FloorWork, clock: HeldClock, store: Store
) -> None:
    first, second, *_ = codes_of(store)
    caller = Caller(store, clock, "Station 1")
    assert called(caller).row.code == first
    to_rest(work, clock, first)

    assert called(caller).row.code == second


@pytest.mark.parametrize("ahead_s", [-600, -5, 5, 600])
def test_what_a_station_with_another_clock_has_laid_to_rest_is_called_to_no_press(
    tmp_path: Path, work: FloorWork, clock: HeldClock, store: Store, ahead_s: float
) -> None:
    first, second, *others = codes_of(store)
    caller = Caller(store, clock, "Station 1")
    for code in others:
        work.hold(work.find(code), "a kit is missing")
    to_rest(work, clock, first)
    assert called(caller).row.code == second
    with other_station(tmp_path, clock, ahead_s) as other:
        to_rest(other, other.clock, second)

    assert called(caller).act == Act.FINISH


def test_the_press_stands_as_it_was_closed_last_whatever_the_clocks_say(
    tmp_path: Path, work: FloorWork, clock: HeldClock, store: Store
) -> None:
    """The other station, an hour behind, has set the press to 155 °C after ours had it at 149 °C."""
    first, second, *others = codes_of(store)
    through_the_first_hit(work, clock, first)
    caller = Caller(store, clock, "Station 1")
    to_rest(work, clock, second)
    caller.call()
    with other_station(tmp_path, clock, -3600) as other:
        other.pass_check(off_the_press(other, other.clock, first))
    for code in others[1:]:
        work.hold(work.find(code), "a kit is missing")
    clock.advance(3600)

    assert "changing from 155 °C" in " ".join(call_why(caller, work))


def call_why(caller: Caller, work: FloorWork) -> Iterator[str]:
    """The reasons of the next calls, while what is called is held each time."""
    while (call := caller.call()) is not None:
        yield call.why
        work.hold(work.find(call.row.code), "later")


def test_a_garment_that_a_station_behind_by_ten_minutes_takes_over_breaks_nothing(
    tmp_path: Path, work: FloorWork, clock: HeldClock, store: Store
) -> None:
    clock.advance(3600)
    first, *_ = codes_of(store)
    work.take_up(work.find(first))
    caller = Caller(store, clock, "Station 1")
    assert called(caller).row.code == first
    with other_station(tmp_path, clock, -600) as other:
        other.take_up(other.find(first))

    assert called(caller)


def test_of_many_garments_read_at_once_one_with_a_damaged_log_is_left_out(
    tmp_path: Path, clock: HeldClock
) -> None:
    store = loaded_store(tmp_path / "many", clock, rested_vests(FEW + 2))
    work, (damaged, *others) = FloorWork(store, clock, Seat("Station 1", "Mette")), codes_of(store)
    for code in (damaged, *others):
        work.take_up(work.find(code))
    with closing(sqlite3.connect(tmp_path / "many" / "floor.db")) as file:
        file.executescript("DROP TRIGGER events_are_not_changed")
        its = "garment_id = (SELECT id FROM garments WHERE code = ?)"
        file.execute(f"UPDATE events SET kind = 'passed' WHERE {its}", (damaged,))
        file.commit()

    assert called(Caller(store, clock, "Station 1")).row.code == others[0]
    store.close()
