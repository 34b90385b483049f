"""A press holds one garment: a second is refused, with the way to the one in it."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from models.errors import PressInUseError
from models.floor.work import FloorWork, Seat
from models.garment.cycle import State
from models.store.records import StoredGarment
from tests.held_clock import HeldClock
from tests.sample_jobs import crew_vest_recipe
from tests.small_floor import codes_of, loaded_store, on_press


@pytest.fixture
def clock() -> HeldClock:
    return HeldClock()


@pytest.fixture
def work(tmp_path: Path, clock: HeldClock) -> Iterator[FloorWork]:
    """Station 1 on a floor with two vests."""
    store = loaded_store(tmp_path, clock, on_press(crew_vest_recipe(), "wide press"))
    yield FloorWork(store, clock, Seat("Station 1", "Mette"))
    store.close()


def vests(work: FloorWork) -> list[StoredGarment]:
    return [work.take_up(work.find(code)) for code in codes_of(work.store)]


def test_a_second_garment_under_one_press_is_refused_and_nothing_is_stored(work: FloorWork) -> None:
    first, second = vests(work)
    work.close(first)

    with pytest.raises(PressInUseError, match=r"wide press holds .* before .* is pressed") as refused:
        work.close(second)
    assert refused.value.code == first.row.code
    assert work.find(second.row.code).log == second.log


def test_once_the_first_is_open_the_second_can_be_pressed(work: FloorWork) -> None:
    first, second = vests(work)
    work.open(work.close(first), 15)

    assert work.close(second).progress.state == State.PRESSING


def test_another_press_of_the_station_is_free(work: FloorWork) -> None:
    narrow = on_press(crew_vest_recipe(), "narrow press")
    work.store.add_batch(replace(narrow.job, reference="LC-0148"), narrow.plan)
    work.close(vests(work)[0])
    other = work.find(work.store.garments("LC-0148")[0].code)

    assert work.close(other).progress.state == State.PRESSING


def test_another_station_has_a_press_of_its_own(work: FloorWork, clock: HeldClock) -> None:
    first, second = vests(work)
    work.close(first)
    elsewhere = FloorWork(work.store, clock, Seat("Station 2", "Jens"))

    assert elsewhere.close(elsewhere.take_up(second)).progress.state == State.PRESSING


def test_a_press_that_never_came_down_is_free(work: FloorWork) -> None:
    first, second = vests(work)
    work.never_closed(work.close(first))

    assert work.close(second).progress.state == State.PRESSING


def test_an_opening_is_not_taken_back_while_the_press_holds_another(work: FloorWork) -> None:
    first, second = vests(work)
    opened = work.open(work.close(first), 15)
    work.close(second)

    with pytest.raises(PressInUseError) as refused:
        work.take_back(opened)
    assert refused.value.code == second.row.code
    assert work.find(first.row.code).progress.state == opened.progress.state


def test_a_garment_that_another_station_scans_stays_under_its_press(
    work: FloorWork, clock: HeldClock
) -> None:
    first, second = vests(work)
    closed = work.close(first)
    elsewhere = FloorWork(work.store, clock, Seat("Station 2", "Jens"))

    assert elsewhere.pick_up(first.row.code).is_left
    assert work.find(first.row.code) == closed
    with pytest.raises(PressInUseError, match="No 4 Ines Okafor"):
        work.close(second)
