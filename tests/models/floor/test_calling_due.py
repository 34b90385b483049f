"""Due dates steer the call: what is due first goes first, and everything else fills the time it rests."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from models.floor.calling import Call, Caller
from models.floor.floor_reading import FIRST_READ
from models.floor.remedies import Remedies
from models.floor.work import FloorWork, Seat
from models.garment.cycle import State
from models.garment.progress import Recipe
from models.job.job import GarmentOrder, Peel
from models.rotation.simulation.simulator import Act
from models.store.store import Store
from tests.held_clock import MORNING, HeldClock
from tests.sample_jobs import rested_recipe
from tests.small_floor import loaded_store

TODAY = MORNING.date()
TOMORROW, NEXT_WEEK = TODAY + timedelta(days=1), TODAY + timedelta(days=7)
URGENT, LATER = "LC-0200", "LC-0147"


def batch(reference: str, garments: int, due: date | None, hits: int = 2, heat_c: float = 149) -> Recipe:
    """Vests of one or two hits at this heat."""
    recipe = rested_recipe()
    orders = tuple(GarmentOrder(n, "M") for n in range(1, garments + 1))
    job = replace(recipe.job, reference=reference, due=due, garments=orders)
    at_heat = tuple(replace(hit, temperature_c=heat_c) for hit in recipe.plan.hits[:hits])
    return replace(recipe, job=job, plan=replace(recipe.plan, hits=at_heat))


def add(store: Store, recipe: Recipe) -> None:
    store.add_batch(recipe.job, recipe.plan, recipe.heat_findings, recipe.rests)


@pytest.fixture
def clock() -> HeldClock:
    return HeldClock()


@pytest.fixture
def store(tmp_path: Path, clock: HeldClock) -> Iterator[Store]:
    """Forty vests of two hits, due next week."""
    store = loaded_store(tmp_path, clock, batch(LATER, 40, NEXT_WEEK))
    yield store
    store.close()


@pytest.fixture
def work(store: Store, clock: HeldClock) -> FloorWork:
    return FloorWork(store, clock, Seat("Station 1", "Mette"))


def called(caller: Caller) -> Call:
    call = caller.call()
    assert call is not None
    return call


def press_what_is_called(work: FloorWork, clock: HeldClock, call: Call) -> None:
    garment = work.take_up(work.find(call.row.code))
    clock.advance(20)
    garment = work.close(garment)
    clock.advance(garment.progress.hit.dwell_s)
    garment = work.open(garment, garment.progress.hit.dwell_s)
    clock.advance(5)
    if garment.progress.state == State.PEELING:
        work.peel(garment, Peel.HOT)


def finish_what_is_called(work: FloorWork, clock: HeldClock, call: Call) -> None:
    clock.advance(10)
    garment = work.find(call.row.code)
    resting = garment.progress.state == State.RESTING
    work.pass_check(work.peel(garment, Peel.COLD) if resting else garment)


def pressed_in_order(work: FloorWork, clock: HeldClock, caller: Caller, many: int) -> list[str]:
    """The batches of the garments pressed; what is called to be checked is checked."""
    pressed: list[str] = []
    while len(pressed) < many:
        call = called(caller)
        clock.advance(max(0.0, (call.at - clock.utc_now()).total_seconds()))
        if call.act == Act.FINISH:
            finish_what_is_called(work, clock, call)
            continue
        press_what_is_called(work, clock, call)
        pressed.append(call.row.batch_reference)
    return pressed


@pytest.mark.parametrize("heat_c", [149, 155])
def test_six_vests_due_tomorrow_go_before_forty_due_next_week(
    work: FloorWork, clock: HeldClock, store: Store, heat_c: float
) -> None:
    """The forty are in work already, and more of each garment is ahead of them."""
    caller = Caller(store, clock, "Station 1")
    pressed_in_order(work, clock, caller, 3)
    add(store, batch(URGENT, 6, TOMORROW, hits=1, heat_c=heat_c))

    assert pressed_in_order(work, clock, caller, 6) == [URGENT] * 6
    assert pressed_in_order(work, clock, caller, 2) == [LATER] * 2


def test_the_call_says_when_the_batch_is_due(work: FloorWork, clock: HeldClock, store: Store) -> None:
    caller = Caller(store, clock, "Station 1")
    pressed_in_order(work, clock, caller, 1)
    add(store, batch(URGENT, 6, TOMORROW, hits=1, heat_c=155))

    call = called(caller)
    assert call.why.startswith("its batch is due tomorrow; changing from 149 °C")
    assert "what is left at the old one can wait" in call.why


def test_a_due_date_that_decides_nothing_is_not_said(work: FloorWork, clock: HeldClock, store: Store) -> None:
    assert "due" not in called(Caller(store, clock, "Station 1")).why


def test_a_batch_due_later_is_not_begun_while_another_goes_on(
    work: FloorWork, clock: HeldClock, store: Store
) -> None:
    caller = Caller(store, clock, "Station 1")
    pressed_in_order(work, clock, caller, 1)
    for due in (NEXT_WEEK, NEXT_WEEK + timedelta(days=1), None):
        add(store, batch(f"LC-03{due}", 6, due))

    assert pressed_in_order(work, clock, caller, 12) == [LATER] * 12


def test_of_batches_that_nobody_has_begun_the_one_due_first_is_called(clock: HeldClock, store: Store) -> None:
    add(store, batch("LC-0300", 2, None))
    add(store, batch(URGENT, 6, TOMORROW))

    assert called(Caller(store, clock, "Station 1")).row.batch_reference == URGENT


def test_while_what_is_due_first_rests_the_others_are_pressed(
    work: FloorWork, clock: HeldClock, store: Store
) -> None:
    """Two vests due tomorrow rest longer than it takes to press them."""
    caller = Caller(store, clock, "Station 1")
    pressed_in_order(work, clock, caller, 1)
    add(store, batch(URGENT, 2, TOMORROW))

    pressed = pressed_in_order(work, clock, caller, 6)
    assert pressed[:2] == [URGENT, URGENT]
    assert pressed[2] == LATER
    assert pressed.count(URGENT) == 4


def test_the_batch_due_first_is_done_first_as_is_foretold(
    work: FloorWork, clock: HeldClock, store: Store
) -> None:
    """Nobody has begun it, and it counts nevertheless."""
    caller = Caller(store, clock, "Station 1")
    pressed_in_order(work, clock, caller, 1)
    before = caller.outlook()
    add(store, batch(URGENT, 6, TOMORROW, hits=1))
    after = caller.outlook()

    assert before is not None
    assert after is not None
    assert after.ends[URGENT].high < after.ends[LATER].low
    assert after.ends[LATER].median > before.ends[LATER].median


def test_of_a_batch_that_nobody_has_begun_only_its_first_garments_are_read(
    work: FloorWork, clock: HeldClock, store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    caller = Caller(store, clock, "Station 1")
    pressed_in_order(work, clock, caller, 1)
    caller.call()
    add(store, batch(URGENT, 2_000, TOMORROW))
    add(store, batch("LC-0300", 2_000, None))
    read: list[int] = []
    reading, logs = store.garments, store.logs

    def noted(reference: str, first: int | None = None):
        rows = reading(reference, first)
        read.append(len(rows))
        return rows

    def noted_logs(reference: str):
        for row in logs(reference):
            read.append(1)
            yield row

    monkeypatch.setattr(store, "garments", noted)
    monkeypatch.setattr(store, "logs", noted_logs)
    assert called(caller).row.batch_reference == URGENT
    assert sum(read) <= FIRST_READ


def test_a_batch_of_higher_priority_goes_before_one_that_is_due_tomorrow(
    work: FloorWork, clock: HeldClock, store: Store
) -> None:
    caller = Caller(store, clock, "Station 1")
    pressed_in_order(work, clock, caller, 1)
    add(store, batch(URGENT, 6, TOMORROW))
    add(store, batch("LC-0300", 6, None))
    remedies = Remedies(store, work.seat)
    assert called(caller).row.batch_reference == URGENT
    before = remedies.set_priority(store.batch("LC-0300"), 1)

    first = called(caller)
    assert (first.row.batch_reference, first.why[:33]) == ("LC-0300", "its batch goes before the others;")
    remedies.set_priority(before, 0)
    assert called(caller).row.batch_reference == URGENT


def test_what_is_taken_out_is_not_called_and_a_corrected_name_is(
    work: FloorWork, clock: HeldClock, store: Store
) -> None:
    caller, remedies = Caller(store, clock, "Station 1"), Remedies(store, work.seat)
    pressed_in_order(work, clock, caller, 1)
    first, second = called(caller).row, store.garments(LATER)[2]
    assert second.code != first.code
    remedies.take_out(store.garment(first.code), "not ordered")
    remedies.correct(store.garment(second.code), "Ines", "9")

    assert (called(caller).row.code, called(caller).row.wearer) == (second.code, "Ines")
