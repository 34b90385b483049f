"""How long garments rest and wait: what is stored of it, and what the next ones learn."""

from collections.abc import Callable, Iterator
from contextlib import closing
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from models.floor.resting import Basis
from models.floor.work import FloorWork, Seat
from models.garment.events import FindingKind, Found, Peeled, Rested
from models.job.job import GarmentOrder, Peel
from models.learning.learned import FEWEST
from models.recipe.piece_rest import PieceRest
from models.recipe.places import Place
from models.store.records import StoredGarment
from tests.held_clock import HeldClock
from tests.sample_jobs import rested_recipe
from tests.small_floor import codes_of, loaded_store
from tests.worked_garments import events_of, pressed


@pytest.fixture
def clock() -> HeldClock:
    return HeldClock()


@pytest.fixture
def estimated(tmp_path: Path, clock: HeldClock) -> Iterator[FloorWork]:
    """Some vests whose rests were estimated when they were loaded."""
    orders = tuple(GarmentOrder(n, "M") for n in range(1, FEWEST + 2))
    recipe = rested_recipe()
    hung = PieceRest("anchor", Peel.COLD, 60.0, 90.0, 120.0, place=Place.HUNG)
    recipe = replace(recipe, rests=(*recipe.rests, hung))
    vests = replace(recipe, job=replace(recipe.job, garments=orders))
    store = loaded_store(tmp_path / "estimated", clock, vests)
    yield FloorWork(store, clock, Seat("Station 1", "Mette"))
    store.close()


def resting(work: FloorWork, code: str) -> StoredGarment:
    return work.peel(pressed(work, work.take_up(work.find(code))), Peel.HOT)


def test_a_garment_rests_for_as_long_as_was_estimated(estimated: FloorWork) -> None:
    garment = resting(estimated, codes_of(estimated.store)[0])

    assert events_of(garment, Rested) == [Rested(70, counts_from_opening=True)]


def test_a_rest_counts_from_the_opening_and_not_from_the_tap_that_sends_it_to_rest(
    estimated: FloorWork, clock: HeldClock
) -> None:
    opened = pressed(estimated, estimated.take_up(estimated.find(codes_of(estimated.store)[0])))
    clock.advance(41)
    garment = estimated.peel(opened, Peel.HOT)

    assert events_of(garment, Rested) == [Rested(29, counts_from_opening=True)]
    assert garment.progress.rest_ends_at == garment.progress.opened_at + timedelta(seconds=70)  # type: ignore[operator]


def test_a_late_tap_on_open_takes_nothing_from_the_rest(estimated: FloorWork, clock: HeldClock) -> None:
    """The press went up when the operator says, 30 s before the tap."""
    closed = estimated.close(estimated.find(codes_of(estimated.store)[0]))
    clock.advance(45)
    garment = estimated.peel(estimated.open(closed, 15, judged=True), Peel.HOT)

    assert events_of(garment, Rested) == [Rested(40, counts_from_opening=True)]


def test_a_garment_that_has_cooled_for_as_long_as_it_rests_is_due_at_once(
    estimated: FloorWork, clock: HeldClock
) -> None:
    opened = pressed(estimated, estimated.take_up(estimated.find(codes_of(estimated.store)[0])))
    clock.advance(600)
    garment = estimated.peel(opened, Peel.HOT)

    assert garment.progress.rest_ends_at == clock.utc_now()


@pytest.fixture
def hanging(estimated: FloorWork) -> FloorWork:
    """Another station with the same vests, which hangs its garments."""
    return FloorWork(estimated.store, estimated.clock, Seat("Station 2", "Tor", Place.HUNG))


def test_a_station_that_hangs_its_garments_sends_them_to_hang(hanging: FloorWork) -> None:
    garment = resting(hanging, codes_of(hanging.store)[0])

    assert events_of(garment, Rested) == [Rested(90, Place.HUNG, counts_from_opening=True)]


def test_what_hangs_rests_on_hung_whichever_station_finds_it_warm(
    estimated: FloorWork, hanging: FloorWork, clock: HeldClock
) -> None:
    code = codes_of(hanging.store)[0]
    resting(hanging, code)
    clock.advance(90)
    rests_on = estimated.rest_on(estimated.find(code))

    assert events_of(rests_on, Rested)[-1] == Rested(30, Place.HUNG)


def test_its_next_rest_is_where_the_station_rests_that_has_it_then(
    estimated: FloorWork, hanging: FloorWork, clock: HeldClock
) -> None:
    garment = resting(hanging, codes_of(hanging.store)[0])
    clock.advance(90)
    wrinkled = Found(FindingKind.WRINKLE, ("anchor",))
    anew = estimated.replace_pieces(estimated.peel(garment, Peel.COLD), wrinkled)

    assert estimated.rest(pressed(estimated, anew)).log[-1].what == Rested(
        70, Place.TABLE, counts_from_opening=True
    )


def test_rests_on_the_table_say_nothing_of_those_hung(
    estimated: FloorWork, hanging: FloorWork, clock: HeldClock
) -> None:
    *earlier, last = codes_of(estimated.store)
    for code in earlier:
        garment = resting(estimated, code)
        clock.advance(40)
        estimated.pass_check(estimated.peel(garment, Peel.COLD))

    assert events_of(resting(hanging, last), Rested) == [Rested(90, Place.HUNG, counts_from_opening=True)]


def test_warm_peels_that_held_shorten_the_waits_to_come(tmp_path: Path, clock: HeldClock) -> None:
    recipe = rested_recipe()
    orders = tuple(GarmentOrder(n, "M") for n in range(1, 10))
    materials = tuple(replace(m, peel=Peel.WARM) if m.carrier else m for m in recipe.job.materials)
    rests = (PieceRest("anchor", Peel.WARM, 20.0, 33.0, 49.0, place=Place.HUNG),)
    warm = replace(recipe, job=replace(recipe.job, materials=materials, garments=orders), rests=rests)
    with closing(loaded_store(tmp_path / "warm", clock, warm)) as store:
        work = FloorWork(store, clock, Seat("Station 1", "Mette", Place.HUNG))
        *earlier, last = codes_of(store)
        for code in earlier:
            garment = pressed(work, work.take_up(work.find(code)))
            clock.advance(22)
            garment = work.peel(garment, Peel.WARM)
            work.pass_check(garment)
        wait = work.warm_wait_of(pressed(work, work.take_up(work.find(last))).progress)

    assert events_of(garment, Peeled)[-1].place == Place.HUNG
    assert wait is not None
    assert (wait.place, wait.basis, wait.seconds < 30) == (Place.HUNG, Basis.LEARNED, True)


def test_rests_that_were_called_ready_shorten_those_to_come(estimated: FloorWork, clock: HeldClock) -> None:
    *earlier, last = codes_of(estimated.store)
    for code in earlier:
        garment = resting(estimated, code)
        clock.advance(40)
        estimated.pass_check(estimated.peel(garment, Peel.COLD))
    (rest,) = events_of(resting(estimated, last), Rested)

    assert 40 <= rest.rest_s < 60


def test_a_garment_that_is_still_warm_rests_on_and_the_next_ones_longer(
    estimated: FloorWork, clock: HeldClock
) -> None:
    *earlier, last = codes_of(estimated.store)
    for code in earlier:
        garment = resting(estimated, code)
        clock.advance(90)
        garment = estimated.rest_on(garment)
        clock.advance(50)
        estimated.pass_check(estimated.peel(garment, Peel.COLD))
    (rest,) = events_of(resting(estimated, last), Rested)

    assert 95 < rest.rest_s <= 110


def test_a_garment_that_is_sent_back_rests_to_the_end_of_the_band(
    estimated: FloorWork, clock: HeldClock
) -> None:
    garment = resting(estimated, codes_of(estimated.store)[0])
    clock.advance(80)

    rests_on = estimated.rest_on(garment)
    assert rests_on.progress.rest_ends_at == clock.utc_now() + timedelta(seconds=46)


def test_a_replaced_piece_rests_after_its_extra_hit_as_after_its_planned_one(
    estimated: FloorWork, clock: HeldClock
) -> None:
    garment = resting(estimated, codes_of(estimated.store)[0])
    clock.advance(71)
    scorched = Found(FindingKind.SCORCH, ("anchor",))
    anew = estimated.replace_pieces(estimated.peel(garment, Peel.COLD), scorched)

    assert estimated.rest(pressed(estimated, anew)).log[-1].what == Rested(70, counts_from_opening=True)


def test_a_rest_that_went_on_can_be_taken_back(estimated: FloorWork) -> None:
    garment = resting(estimated, codes_of(estimated.store)[0])
    before = garment.progress.rest_ends_at

    assert estimated.take_back(estimated.rest_on(garment)).progress.rest_ends_at == before


@pytest.fixture
def many(tmp_path: Path, clock: HeldClock) -> Iterator[FloorWork]:
    """A dozen vests whose rests were estimated when they were loaded."""
    orders = tuple(GarmentOrder(n, "M") for n in range(1, 13))
    vests = replace(rested_recipe(), job=replace(rested_recipe().job, garments=orders))
    store = loaded_store(tmp_path / "many", clock, vests)
    yield FloorWork(store, clock, Seat("Station 1", "Mette"))
    store.close()


def called_ready(work: FloorWork, clock: HeldClock, code: str, seconds: float) -> StoredGarment:
    garment = resting(work, code)
    clock.advance(seconds)
    return work.pass_check(work.peel(garment, Peel.COLD))


def lifted_next_morning(work: FloorWork, clock: HeldClock, code: str) -> StoredGarment:
    garment = resting(work, code)
    clock.advance(14 * 3600)
    return work.press_again(work.peel(garment, Peel.COLD), Found(FindingKind.LIFT, ("anchor",)))


def slipped(work: FloorWork, clock: HeldClock, code: str) -> StoredGarment:
    """Somebody taps "cold already" as the garment has just gone to rest."""
    return called_ready(work, clock, code, 4)


@pytest.mark.parametrize("mishap", [lifted_next_morning, slipped])
def test_one_rest_out_of_all_reason_changes_the_learned_rest_by_little(
    many: FloorWork, clock: HeldClock, mishap: Callable[[FloorWork, HeldClock, str], StoredGarment]
) -> None:
    *good, odd, next_one, last = codes_of(many.store)
    for code in good:
        called_ready(many, clock, code, 50)
    mishap(many, clock, odd)
    after = many.waits_after(many.find(next_one).progress)[1]
    called_ready(many, clock, next_one, 50)
    recovered = many.waits_after(many.find(last).progress)[1]

    assert after.basis == recovered.basis == Basis.LEARNED
    assert 48 <= after.seconds <= 54
    assert 48 <= recovered.seconds <= 54
