"""Which seconds under the press can be true, and what too long a closing is told by."""

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from models.errors import ImpossibleSecondsError
from models.floor.openings import seconds_of_last_hit, too_long_at_once, too_long_in_all
from models.floor.work import FloorWork, Seat
from models.garment.cycle import State
from models.garment.events import FindingKind, Found
from models.job.job import Peel
from models.store.records import StoredGarment
from tests.held_clock import HeldClock
from tests.small_floor import codes_of, loaded_store


@pytest.fixture
def clock() -> HeldClock:
    return HeldClock()


@pytest.fixture
def work(tmp_path: Path, clock: HeldClock) -> Iterator[FloorWork]:
    store = loaded_store(tmp_path, clock)
    yield FloorWork(store, clock, Seat("Station 1", "Mette"))
    store.close()


@pytest.fixture
def closed(work: FloorWork) -> StoredGarment:
    """The press has just come down for its first hit."""
    return work.close(work.find(codes_of(work.store)[0]))


def checked(work: FloorWork, opened: StoredGarment) -> StoredGarment:
    return work.peel(work.peel(opened, Peel.HOT), Peel.COLD)


def test_more_seconds_than_were_counted_are_refused_and_nothing_is_stored(
    work: FloorWork, closed: StoredGarment
) -> None:
    with pytest.raises(ImpossibleSecondsError, match="9 s ago and cannot have been closed for 30 s"):
        work.open(closed, 30, judged=True, closed_s=9)
    assert work.find(closed.row.code).log == closed.log


def test_all_seconds_that_were_counted_may_be_told(work: FloorWork, closed: StoredGarment) -> None:
    assert seconds_of_last_hit(work.open(closed, 400, judged=True, closed_s=400).log) == 400


def test_an_eye_may_be_off_by_two_seconds(work: FloorWork, closed: StoredGarment) -> None:
    assert work.open(closed, 15, judged=True, closed_s=13).progress.state == State.PEELING


def test_no_seconds_at_all_are_no_hit(work: FloorWork, closed: StoredGarment) -> None:
    with pytest.raises(ImpossibleSecondsError, match="type at least 1 s, or say that the press never came"):
        work.open(closed, 0, judged=True)
    assert work.find(closed.row.code).log == closed.log


@pytest.mark.parametrize("clocks_differ_s", [-600, -5, 5, 600])
def test_a_closing_that_only_the_log_tells_of_refuses_no_true_seconds(
    work: FloorWork, closed: StoredGarment, clocks_differ_s: int
) -> None:
    """Another station's clock, or this one's before it was set, says nothing of how long it was closed."""
    at = closed.log[-1].at + timedelta(seconds=15 + clocks_differ_s)
    elsewhere = FloorWork(work.store, HeldClock(at), Seat("Station 2", "Jens"))

    assert seconds_of_last_hit(elsewhere.open(closed, 57, judged=True).log) == 57


def test_a_hit_of_its_dwell_oversteps_nothing(
    work: FloorWork, clock: HeldClock, closed: StoredGarment
) -> None:
    clock.advance(15)
    garment = checked(work, work.open(closed, 15))

    assert too_long_at_once(garment) == ()
    assert too_long_in_all(garment.progress) == {}


def test_a_hit_that_stayed_closed_names_the_pieces_that_take_less(
    work: FloorWork, clock: HeldClock, closed: StoredGarment
) -> None:
    """The foam takes 25 s in one hit and 60 s in all; the glitter 20 s and 60 s."""
    clock.advance(70)
    garment = checked(work, work.open(closed, 70, judged=True))

    assert set(too_long_at_once(garment)) == {"anchor", "wave", "life-ring"}
    assert too_long_in_all(garment.progress)["anchor"] == 70


def test_an_opening_that_was_taken_back_is_not_the_last_one(
    work: FloorWork, clock: HeldClock, closed: StoredGarment
) -> None:
    clock.advance(70)
    again = work.take_back(work.open(closed, 70, judged=True))

    assert seconds_of_last_hit(work.open(again, 15, judged=True).log) == 15


def test_a_garment_held_before_it_was_begun_is_begun_when_it_goes_on(work: FloorWork) -> None:
    released = work.release(work.hold(work.find(codes_of(work.store)[0]), "the wrong size"))

    assert released.progress.state == State.LAYING
    assert [row.code for row in work.store.in_work("Station 1")] == [released.row.code]


def test_a_garment_that_is_held_for_a_finding_has_been_begun(work: FloorWork) -> None:
    found = Found(FindingKind.MISSING, ("anchor",))
    held = work.hold(work.find(codes_of(work.store)[0]), "a piece is missing", found)

    assert held.progress.before_hold == State.LAYING
