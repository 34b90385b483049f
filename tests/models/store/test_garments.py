"""Garments in the store: every tap is in the log once it is confirmed, and no station overwrites another."""

from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime, timedelta
from uuid import UUID

import pytest

from models.errors import IllegalEventError
from models.floor.remedies import Remedies
from models.floor.work import Seat
from models.garment.cycle import State
from models.garment.events import (
    AllPeeled,
    Closed,
    Held,
    Opened,
    Passed,
    Rested,
    RestEnded,
    Spoiled,
    TakenBack,
    TakenUp,
)
from models.garment.progress import fold
from models.store.errors import (
    GarmentMovedError,
    NothingToTakeBackError,
    UnknownBatchError,
    UnknownCodeError,
)
from models.store.records import StoredGarment
from models.store.store import Store
from tests.held_clock import MORNING, HeldClock
from tests.models.store.conftest import OpenStore
from tests.models.store.taps import FOUND, first_garment, load_vests, tap


def test_a_fresh_garment_has_an_empty_log_and_waits(store: Store) -> None:
    head = load_vests(store)
    garment = first_garment(store)
    assert (garment.batch, garment.log, garment.progress.state) == (head, (), State.IDLE)


def test_an_unknown_code_is_told_as_it_is_spoken(store: Store) -> None:
    load_vests(store)
    with pytest.raises(UnknownCodeError, match="no garment has the tag ABCD EFGH"):
        store.garment("ABCDEFGH")


def test_a_tap_is_read_back_exactly_as_it_was_confirmed(store: Store) -> None:
    load_vests(store)
    confirmed = tap(store, first_garment(store), TakenUp(), Closed(15))
    assert store.garment(confirmed.row.code) == confirmed


def test_events_say_when_where_and_who(store: Store, clock: HeldClock) -> None:
    load_vests(store)
    clock.advance(90.5)
    (event,) = store.record(first_garment(store), [TakenUp()], "press 2", "Tor").log
    assert (event.at, event.station, event.person) == (MORNING + timedelta(seconds=90.5), "press 2", "Tor")
    assert event.at.tzinfo == UTC


def test_instants_keep_their_microseconds(store: Store, clock: HeldClock) -> None:
    load_vests(store)
    clock.advance(0.123457)
    garment = tap(store, first_garment(store), TakenUp())
    (event,) = store.garment(garment.row.code).log
    assert event.at == datetime(2026, 11, 3, 8, 0, 0, 123457, tzinfo=UTC)


def test_all_events_of_one_tap_share_it_and_count_on(store: Store) -> None:
    load_vests(store)
    garment = tap(store, first_garment(store), TakenUp())
    garment = tap(store, garment, Closed(15), Opened(15), AllPeeled())
    assert [event.seq for event in garment.log] == [1, 2, 3, 4]
    assert len({event.tap for event in garment.log[1:]}) == 1
    assert garment.log[0].tap != garment.log[1].tap


def test_ids_sort_as_the_events_happened(store: Store, clock: HeldClock) -> None:
    load_vests(store)
    garment = first_garment(store)
    for _ in range(5):
        clock.advance(1)
        garment = tap(store, garment, TakenUp(), FOUND)
    ids = [event.id for event in garment.log]
    assert ids == sorted(ids)
    assert {id_.version for id_ in ids} == {7}


def test_a_tap_that_the_state_forbids_stores_none_of_its_events(store: Store) -> None:
    load_vests(store)
    garment = first_garment(store)
    with pytest.raises(IllegalEventError):
        tap(store, garment, TakenUp(), Passed())
    assert store.garment(garment.row.code) == garment


def test_the_second_of_two_stations_is_told_that_the_garment_moved(
    store: Store, open_store: OpenStore, url: str
) -> None:
    other = open_store(url)
    load_vests(store)
    seen_by_both = first_garment(store)
    kept = tap(store, seen_by_both, TakenUp(), Closed(15), station="press 1")
    with pytest.raises(GarmentMovedError, match="was worked at press 1 meanwhile and is pressing now; scan"):
        tap(other, seen_by_both, TakenUp(), station="press 2")
    assert other.garment(kept.row.code) == kept


def test_of_stations_that_tap_at_the_same_moment_one_is_confirmed(
    store: Store, open_store: OpenStore, url: str
) -> None:
    load_vests(store)
    seen_by_all = first_garment(store)
    others = [open_store(url) for _ in range(4)]

    def is_confirmed(station: Store) -> bool:
        try:
            return bool(tap(station, seen_by_all, TakenUp(), Closed(15)))
        except GarmentMovedError:
            return False

    with ThreadPoolExecutor(len(others)) as stations:
        assert sorted(stations.map(is_confirmed, others)) == [False, False, False, True]
    assert store.garment(seen_by_all.row.code).progress.seq == 2


def test_after_reading_it_again_the_second_station_can_go_on(
    store: Store, open_store: OpenStore, url: str
) -> None:
    other = open_store(url)
    load_vests(store)
    code = tap(store, first_garment(store), TakenUp()).row.code
    tap(other, other.garment(code), Closed(15), station="press 2")
    assert store.garment(code).progress.station == "press 2"


def test_a_stale_taking_back_is_refused_too(store: Store) -> None:
    load_vests(store)
    before = tap(store, first_garment(store), TakenUp())
    after = tap(store, before, Closed(15))
    with pytest.raises(GarmentMovedError):
        store.take_back(before, "press 2", "Tor")
    assert store.garment(after.row.code) == after


def test_taking_back_adds_an_event_and_undoes_the_whole_tap(store: Store) -> None:
    load_vests(store)
    laid = tap(store, first_garment(store), TakenUp())
    pressed = tap(store, laid, Closed(15), Opened(15), station="press 2")
    back = store.take_back(pressed, "press 2", "Tor")
    assert back.log[-1].what == TakenBack(pressed.log[-1].tap)
    assert (back.progress.state, back.progress.records) == (State.LAYING, laid.progress.records)
    assert (back.row.state, back.row.station) == (State.LAYING, "press 1")
    assert store.garment(back.row.code) == back


def test_taps_are_taken_back_one_after_the_other_until_none_is_left(store: Store) -> None:
    load_vests(store)
    garment = tap(store, tap(store, first_garment(store), TakenUp()), Closed(15))
    for _ in range(2):
        garment = store.take_back(garment, "press 1", "Ines")
    assert garment.progress.state == State.IDLE
    with pytest.raises(NothingToTakeBackError, match="nothing was done to"):
        store.take_back(garment, "press 1", "Ines")


def test_the_rest_rail_shows_who_can_be_peeled_soonest(store: Store, clock: HeldClock) -> None:
    load_vests(store, sizes=("S", "M", "L"))
    long, short, _ = (store.garment(row.code) for row in store.garments("LC-0147"))
    to_the_rail(store, long, 90)
    clock.advance(10)
    to_the_rail(store, short, 60)
    assert [(row.code, row.rest_ends_at) for row in store.resting()] == [
        (short.row.code, MORNING + timedelta(seconds=70)),
        (long.row.code, MORNING + timedelta(seconds=90)),
    ]


def test_a_garment_leaves_the_rest_rail_when_its_rest_ended(store: Store) -> None:
    load_vests(store)
    garment = to_the_rail(store, first_garment(store), 60)
    tap(store, garment, RestEnded())
    assert store.resting() == ()


def test_garments_in_work_are_listed_by_station_the_last_worked_first(store: Store, clock: HeldClock) -> None:
    load_vests(store, sizes=("M",) * 4)
    first, second, third, fourth = (store.garment(row.code) for row in store.garments("LC-0147"))
    for garment, station in ((first, "press 1"), (second, "press 2"), (third, "press 1")):
        clock.advance(5)
        tap(store, garment, TakenUp(), station=station)
    tap(store, fourth, Held("foam is short"), station="press 1")
    assert [row.n for row in store.in_work("press 1")] == [3, 1]
    assert [row.n for row in store.in_work(None)] == [3, 2, 1]


def test_a_finished_garment_is_in_nobodys_hands(store: Store) -> None:
    load_vests(store)
    tap(store, tap(store, first_garment(store), TakenUp()), Spoiled("scorched"))
    assert store.in_work(None) == ()


def test_the_review_reads_every_garment_with_its_whole_log(store: Store) -> None:
    head = load_vests(store, sizes=("M", "L", "S"))
    load_vests(store, "OTHER-1")
    worked = tap(store, first_garment(store), TakenUp(), Closed(15))
    logs = list(store.logs("LC-0147"))
    assert [row for row, _ in logs] == list(store.garments("LC-0147"))
    assert [log for _, log in logs] == [worked.log, (), ()]
    assert fold(store.recipe(head.id), logs[0][1]) == worked.progress


def test_logs_of_an_unknown_batch_are_refused_at_once(store: Store) -> None:
    with pytest.raises(UnknownBatchError):
        store.logs("LC-0147")


def test_a_half_read_review_keeps_nobody_from_tapping(store: Store, open_store: OpenStore, url: str) -> None:
    load_vests(store)
    reading = open_store(url).logs("LC-0147")
    next(reading)
    assert tap(store, first_garment(store), TakenUp()).row.state == State.LAYING
    assert [row.state for row, _ in reading] == [State.IDLE]


def test_what_was_confirmed_is_there_after_closing_and_opening(
    store: Store, open_store: OpenStore, url: str
) -> None:
    load_vests(store)
    confirmed = tap(store, first_garment(store), TakenUp())
    store.close()
    assert open_store(url).garment(confirmed.row.code) == confirmed


def test_a_garment_has_an_id_of_version_7(store: Store) -> None:
    load_vests(store)
    ids = [row.id for row in store.garments("LC-0147")]
    assert ids == sorted(ids)
    assert all(isinstance(id_, UUID) and id_.version == 7 for id_ in ids)


def to_the_rail(store: Store, garment: StoredGarment, rest_s: int) -> StoredGarment:
    return tap(store, garment, TakenUp(), Closed(15), Opened(15), Rested(rest_s))


def test_the_first_garments_of_a_batch_are_read_without_the_others(store: Store) -> None:
    load_vests(store, sizes=("M", "L", "S"))
    assert [row.n for row in store.garments("LC-0147", first=2)] == [1, 2]


def test_how_far_each_log_goes_tells_what_has_moved(store: Store, clock: HeldClock) -> None:
    """Whatever the clock of the station says that moved it; what was taken out is in the batch no more."""
    head = load_vests(store, sizes=("M", "L", "S"))
    first, second, third = (row.code for row in store.garments("LC-0147"))
    tap(store, store.garment(second), TakenUp(), Closed(15))
    assert list(store.log_ends(head.id).items()) == [(first, 0), (second, 2), (third, 0)]
    Remedies(store, Seat("press 1", "Ines")).take_out(store.garment(third), "not ordered")
    assert store.log_ends(head.id) == {first: 0, second: 2}
