"""A floor that does what is called, tap by tap in a real store: it ends as soon as was foretold."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from models.floor.calling import Call, Caller
from models.floor.work import FloorWork, Seat
from models.garment.cycle import State
from models.garment.progress import Recipe
from models.job.job import GarmentOrder, Peel
from models.rotation.problem.shop import Visit
from models.rotation.simulation.simulator import Act
from models.rotation.times.expected import Waits, expected_visit
from models.store.records import StoredGarment
from models.store.store import Store
from tests.held_clock import HeldClock
from tests.sample_jobs import rested_recipe
from tests.small_floor import codes_of, loaded_store

VESTS = 5
MOST_STEPS = 200


def recipe_with(second_c: float) -> Recipe:
    """Five vests of two hits; the second one at another heat."""
    recipe = rested_recipe()
    first, second = recipe.plan.hits
    orders = tuple(GarmentOrder(n, "M") for n in range(1, VESTS + 1))
    hits = (first, replace(second, temperature_c=second_c))
    return replace(recipe, job=replace(recipe.job, garments=orders), plan=replace(recipe.plan, hits=hits))


@pytest.fixture
def clock() -> HeldClock:
    return HeldClock()


@pytest.fixture(params=[149, 155], ids=["one setting", "two settings"])
def store(tmp_path: Path, clock: HeldClock, request: pytest.FixtureRequest) -> Iterator[Store]:
    store = loaded_store(tmp_path, clock, recipe_with(request.param))
    yield store
    store.close()


class Person:
    """Does at once what is called, and takes just the time that is expected of it."""

    def __init__(self, store: Store, clock: HeldClock) -> None:
        self.store, self.clock = store, clock
        self.work = FloorWork(store, clock, Seat("Station 1", "Mette"))
        self.caller = Caller(store, clock, "Station 1")
        self.heats: list[float] = []
        self.took = 0

    def work_until_done(self) -> None:
        while (call := self.caller.call()) is not None and self.took < MOST_STEPS:
            self.took += 1
            self._wait_until_due(call)
            self._do(call)

    def _wait_until_due(self, call: Call) -> None:
        wait_s = (call.at - self.clock.utc_now()).total_seconds()
        self.clock.advance(max(0.0, wait_s))

    def _do(self, call: Call) -> None:
        garment = self.work.take_up(self.work.find(call.row.code))
        if call.act == Act.PRESS:
            self._press(garment)
        else:
            self._finish(garment)

    def _press(self, garment: StoredGarment) -> None:
        visit = self._visit(garment)
        self.heats.append(visit.setting.temperature_c)
        self.clock.advance(visit.lay_s)
        garment = self.work.close(garment)
        self._use_the_dwell(visit.dwell_s)
        garment = self.work.open(garment, int(visit.dwell_s))
        self.clock.advance(visit.off_s)
        if garment.progress.next_peel == Peel.HOT:
            self.work.peel(garment, Peel.HOT)

    def _use_the_dwell(self, left_s: float) -> None:
        """Finishes what is called while the press is closed, and is back when it has to be opened."""
        while (call := self.caller.call()) and call.act == Act.FINISH and call.at <= self.clock.utc_now():
            garment = self.work.take_up(self.work.find(call.row.code))
            left_s -= self._visit(garment).finish_s
            self._finish(garment)
            self.took += 1
        assert left_s >= 0, "the person was called to what could not be done in time"
        self.clock.advance(left_s)

    def _finish(self, garment: StoredGarment) -> None:
        self.clock.advance(self._visit(garment).finish_s)
        if garment.progress.next_peel == Peel.COLD:
            garment = self.work.peel(garment, Peel.COLD)
        self.work.pass_check(garment)

    def _visit(self, garment: StoredGarment) -> Visit:
        progress = garment.progress
        return expected_visit(progress.recipe.job, progress.hit, Waits(cold_s=70.0))


@pytest.fixture
def person(store: Store, clock: HeldClock) -> Person:
    person = Person(store, clock)
    person.work.take_up(person.work.find(codes_of(store)[0]))  # the first scan begins the batch
    return person


def test_who_does_what_is_called_completes_every_vest(person: Person, store: Store) -> None:
    person.work_until_done()

    assert {row.state for row in store.garments("LC-0147")} == {State.COMPLETE}


def test_every_vest_is_pressed_and_finished_once_a_hit(person: Person) -> None:
    person.work_until_done()

    assert person.took == VESTS * 2 * 2


def test_all_vests_go_through_one_heat_before_the_press_is_set_to_the_next(person: Person) -> None:
    """Changing there costs more than any rest."""
    person.work_until_done()

    assert person.heats == sorted(person.heats)


def test_the_end_is_as_soon_as_was_foretold(person: Person, clock: HeldClock) -> None:
    """With hands that take just the expected time."""
    outlook = person.caller.outlook()
    assert outlook is not None
    begun, foretold_s = clock.utc_now(), outlook.passes.best.course.end_s
    person.work_until_done()
    took_s = (clock.utc_now() - begun).total_seconds()

    assert took_s == pytest.approx(foretold_s, rel=0.02)


def test_pressing_each_vest_whole_would_have_taken_longer(person: Person, clock: HeldClock) -> None:
    outlook = person.caller.outlook()
    assert outlook is not None
    begun = clock.utc_now()
    person.work_until_done()

    assert (clock.utc_now() - begun).total_seconds() < 0.8 * outlook.passes.whole_s
