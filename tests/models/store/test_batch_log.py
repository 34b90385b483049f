"""What happens to a batch is stored in a log of its own, on both databases; stations see each other."""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from functools import partial

import pytest
from sqlalchemy import create_engine, text
from sqlalchemy.exc import DBAPIError

from models.batch.events import GarmentTakenOut, PrioritySet, WearerCorrected
from models.batch.standing import Standing
from models.errors import FloorError, IllegalEventError
from models.floor.remedies import Remedies
from models.floor.work import Seat
from models.garment.cycle import State
from models.garment.events import (
    AllPeeled,
    Closed,
    Completed,
    Happening,
    Opened,
    Passed,
    Spoiled,
    TakenUp,
)
from models.store.errors import BatchMovedError, BatchNotOpenError, GarmentMovedError, NoRemedyError
from models.store.records import StoredGarment
from models.store.store import Store
from tests.held_clock import HeldClock
from tests.models.store.conftest import OpenStore
from tests.models.store.taps import first_garment, load_vests, tap
from tests.postgres_server import PostgresServer

BATCH = "LC-0147"
CHANGES = ("UPDATE batch_events SET person = 'nobody'", "DELETE FROM batch_events")


@pytest.fixture
def remedies(store: Store) -> Remedies:
    return Remedies(store, Seat("press 1", "Ines"))


def spoiled_first(store: Store) -> StoredGarment:
    load_vests(store)
    return tap(store, first_garment(store), TakenUp(), Spoiled("scorched"))


def test_a_spoiled_garment_is_made_again_for_the_same_wearer(store: Store, remedies: Remedies) -> None:
    spoiled = spoiled_first(store)
    again = store.garment(remedies.make_again(spoiled)).row
    assert (again.n, again.size, again.wearer, again.number) == (3, "M", "Wearer 1", "1")
    assert (again.state, again.remake_of) == (State.IDLE, spoiled.row.code)
    assert again.code != spoiled.row.code
    assert store.garment(spoiled.row.code).row.remade_as == again.code
    assert store.batch(BATCH).garments == 3


def test_a_garment_is_made_again_only_once(store: Store, remedies: Remedies) -> None:
    spoiled = spoiled_first(store)
    new = remedies.make_again(spoiled)
    with pytest.raises(NoRemedyError, match=f"already, as {new[:4]} {new[4:]}; go on"):
        remedies.make_again(store.garment(spoiled.row.code))
    assert len(store.garments(BATCH)) == 3


def test_a_garment_that_is_not_spoiled_is_not_made_again(store: Store, remedies: Remedies) -> None:
    load_vests(store)
    with pytest.raises(NoRemedyError, match="is idle; only a spoiled garment is made again"):
        remedies.make_again(first_garment(store))
    assert store.stored_batch(BATCH).log == ()


def test_what_spoiled_a_garment_is_not_taken_back_once_it_was_made_again(
    store: Store, remedies: Remedies
) -> None:
    spoiled = spoiled_first(store)
    remedies.make_again(spoiled)
    with pytest.raises(GarmentMovedError, match=r"was made again as .*; it stays spoiled"):
        store.take_back(spoiled, "press 1", "Ines")


def test_a_batch_is_done_once_the_spoiled_garment_was_made_again_and_is_complete(
    store: Store, remedies: Remedies
) -> None:
    again = store.garment(remedies.make_again(spoiled_first(store)))
    complete(store, again)
    complete(store, store.garment(store.garments(BATCH)[1].code))
    (batch,) = store.batches()
    assert batch.is_done
    assert (batch.by_state[State.SPOILED], batch.by_state[State.COMPLETE], batch.remade) == (1, 2, 1)


def test_a_batch_with_a_spoiled_garment_that_nobody_makes_again_is_not_done(store: Store) -> None:
    spoiled_first(store)
    complete(store, store.garment(store.garments(BATCH)[1].code))
    (batch,) = store.batches()
    assert batch.has_ended
    assert not batch.is_done


def test_a_garment_is_added_with_the_next_number_in_the_batch(store: Store, remedies: Remedies) -> None:
    head = load_vests(store)
    added = store.garment(remedies.add(head, "L", " Åse  Berg ", "12"))
    assert (added.row.n, added.row.wearer, added.row.number, added.row.remake_of) == (3, "Åse Berg", "12", "")
    assert tap(store, added, TakenUp()).progress.state == State.LAYING


def test_a_size_that_the_recipe_does_not_know_is_refused_with_those_it_does(
    store: Store, remedies: Remedies
) -> None:
    head = load_vests(store)
    with pytest.raises(NoRemedyError, match="no size XXL: its hits were worked out for M, L; choose"):
        remedies.add(head, "XXL", "", "")


def test_a_garment_taken_out_counts_nowhere_and_takes_no_tap_until_it_is_put_back(
    store: Store, remedies: Remedies
) -> None:
    load_vests(store)
    held = tap(store, first_garment(store), TakenUp())
    out = remedies.take_out(held, "no longer wanted")
    assert out.row.taken_out == "no longer wanted"
    assert store.in_work(None) == ()
    assert (store.batches()[0].by_state, store.batches()[0].taken_out) == (
        {State.IDLE: 1, State.LAYING: 0},
        1,
    )
    with pytest.raises(GarmentMovedError, match=r"taken out of its batch \(no longer wanted\); put it back"):
        tap(store, held, Closed(15))
    back = remedies.put_back(out)
    assert tap(store, back, Closed(15)).progress.state == State.PRESSING


def test_a_complete_garment_is_not_taken_out(store: Store, remedies: Remedies) -> None:
    load_vests(store)
    with pytest.raises(NoRemedyError, match="is complete; nothing more is done with it anyway"):
        remedies.take_out(complete(store, first_garment(store)), "no longer wanted")


def test_a_garment_under_the_closed_press_is_not_taken_out(store: Store, remedies: Remedies) -> None:
    load_vests(store)
    pressing = tap(store, first_garment(store), TakenUp(), Closed(15))
    with pytest.raises(NoRemedyError, match="is under the closed press; open the press first"):
        remedies.take_out(pressing, "no longer wanted")


def test_a_name_is_corrected_and_the_log_keeps_both(store: Store, remedies: Remedies) -> None:
    load_vests(store)
    garment = first_garment(store)
    corrected = remedies.correct(garment, "Þórdís", "7")
    assert (corrected.row.wearer, corrected.row.number, corrected.row.code) == (
        "Þórdís",
        "7",
        garment.row.code,
    )
    (event,) = store.stored_batch(BATCH).log
    assert event.what == WearerCorrected(garment.row.code, "Þórdís", "7", "Wearer 1", "1")
    assert store.stored_batch(BATCH).now.wearers == {garment.row.code: ("Þórdís", "7")}


def test_a_name_that_no_tag_can_carry_is_refused(store: Store, remedies: Remedies) -> None:
    load_vests(store)
    with pytest.raises(NoRemedyError, match="this number is too long"):
        remedies.correct(first_garment(store), "Ann", "1" * 21)


def test_a_batch_with_garments_to_do_is_not_closed(store: Store, remedies: Remedies) -> None:
    load_vests(store, sizes=("M",) * 5)
    with pytest.raises(NoRemedyError, match=r"5 garments are still to be finished \(.* …\); finish them"):
        remedies.close(store.batch(BATCH))
    assert store.batch(BATCH).standing == Standing.OPEN


def test_a_closed_batch_leaves_the_floor_and_takes_no_taps_until_it_is_reopened(
    store: Store, remedies: Remedies
) -> None:
    spoiled_first(store)
    last = complete(store, store.garment(store.garments(BATCH)[1].code))
    closed = remedies.close(store.batch(BATCH))
    assert store.batches() == ()
    assert store.heads() == (closed,)
    with pytest.raises(BatchNotOpenError, match="LC-0147 is closed; reopen it on its Review"):
        store.take_back(last, "press 1", "Ines")
    remedies.reopen(closed)
    assert [batch.head.reference for batch in store.batches()] == [BATCH]
    assert store.take_back(last, "press 1", "Ines").progress.state == State.IDLE


def test_a_wrongly_loaded_batch_is_taken_back_and_its_reference_is_free_again(
    store: Store, remedies: Remedies
) -> None:
    wrong = load_vests(store, sizes=("M",))
    code = store.garments(BATCH)[0].code
    remedies.withdraw(wrong)
    right = load_vests(store, sizes=("L", "L"))
    assert store.batch(BATCH) == right
    assert [batch.head for batch in store.batches()] == [right]
    assert store.heads() == (right,)
    gone = store.garment(code)
    assert (gone.batch.reference, gone.batch.standing) == ("LC-0147 (taken back 1)", Standing.WITHDRAWN)
    with pytest.raises(BatchNotOpenError, match="was taken back; do not press this garment"):
        tap(store, gone, TakenUp())
    remedies.withdraw(right)
    assert store.garments("LC-0147 (taken back 2)")[0].size == "L"


def test_a_batch_of_which_something_was_pressed_is_not_taken_back(store: Store, remedies: Remedies) -> None:
    head = load_vests(store)
    tap(store, first_garment(store), TakenUp(), Closed(15))
    with pytest.raises(NoRemedyError, match="has been pressed, so batch LC-0147 stays"):
        remedies.withdraw(head)
    assert store.batch(BATCH) == head


def test_a_closing_that_was_taken_back_does_not_keep_a_batch(store: Store, remedies: Remedies) -> None:
    head = load_vests(store)
    pressing = tap(store, first_garment(store), TakenUp(), Closed(15))
    store.take_back(pressing, "press 1", "Ines")
    assert remedies.withdraw(head).standing == Standing.WITHDRAWN


def test_a_priority_is_kept_with_the_batch(store: Store, remedies: Remedies) -> None:
    load_vests(store)
    assert remedies.set_priority(store.batch(BATCH), 1).priority == 1
    assert store.batches()[0].head.priority == 1
    assert store.stored_batch(BATCH).now.priority == 1


def test_a_station_that_has_not_seen_what_another_did_to_the_batch_is_refused(
    store: Store, remedies: Remedies
) -> None:
    seen = load_vests(store)
    Remedies(store, Seat("press 2", "Per")).set_priority(seen, 1)
    with pytest.raises(BatchMovedError, match=r"changed at press 2 meanwhile \(priority set\); look"):
        remedies.set_priority(seen, 2)
    assert store.batch(BATCH).priority == 1


def test_a_batch_is_not_taken_back_while_another_station_closes_the_press(
    open_store: OpenStore, url: str
) -> None:
    """Whichever comes first, the other is refused: never a pressed garment in a batch that is gone."""
    stations = [open_store(url) for _ in range(2)]
    for k in range(12):
        head = load_vests(stations[0], f"LC-{k}", sizes=("M",))
        garment = tap(stations[0], first_garment(stations[0], f"LC-{k}"), TakenUp())
        with ThreadPoolExecutor(2) as both:
            withdrawn = both.submit(attempt, partial(Remedies(stations[0], Seat("1", "")).withdraw, head))
            closed = both.submit(attempt, partial(tap, stations[1], garment, Closed(15)))
        assert withdrawn.result() != closed.result(), "one of them, and only one, was stored"


def attempt(work: Callable[[], object]) -> bool:
    try:
        work()
    except FloorError:
        return False
    return True


@pytest.mark.parametrize("change", CHANGES)
def test_no_event_of_a_batch_is_changed_or_removed(store: Store, url: str, change: str) -> None:
    must_refuse(store, url, change)


def test_no_event_of_a_batch_is_replaced_in_a_file(open_store: OpenStore, sqlite_url: str) -> None:
    must_refuse(
        open_store(sqlite_url), sqlite_url, "INSERT OR REPLACE INTO batch_events SELECT * FROM batch_events"
    )


def test_the_log_of_batches_is_not_emptied_on_a_server(
    open_store: OpenStore, postgres: PostgresServer
) -> None:
    url = postgres.empty_database()
    must_refuse(open_store(url), url, "TRUNCATE batch_events")


def must_refuse(store: Store, url: str, change: str) -> None:
    """Past the store, straight at the database."""
    store.record_batch(load_vests(store), PrioritySet(1), "press 1", "Ines")
    kept = store.stored_batch(BATCH)
    engine = create_engine(url)
    with pytest.raises(DBAPIError, match="events are never"), engine.begin() as connection:
        connection.execute(text(change))
    engine.dispose()
    assert store.stored_batch(BATCH) == kept


def test_rows_repeat_what_the_log_of_the_batch_says(
    store: Store, remedies: Remedies, clock: HeldClock
) -> None:
    again = remedies.make_again(spoiled_first(store))
    clock.advance(60)
    remedies.take_out(store.garment(again), "torn")
    remedies.correct(store.garment(store.garments(BATCH)[1].code), "Ann", "9")
    now, rows = store.stored_batch(BATCH).now, {row.code: row for row in store.garments(BATCH)}
    assert {row.code: row.taken_out for row in rows.values() if row.taken_out} == now.taken_out
    assert {row.code: row.remade_as for row in rows.values() if row.remade_as} == now.remade
    assert {code: (rows[code].wearer, rows[code].number) for code in now.wearers} == now.wearers
    assert store.batch(BATCH).seq == now.seq == 3


def test_an_event_that_the_batch_refuses_leaves_nothing(store: Store) -> None:
    head = load_vests(store)
    code = store.garments(BATCH)[0].code
    with pytest.raises(IllegalEventError):
        store.record_batch(head, GarmentTakenOut(code, ""), "press 1", "Ines")
    assert (store.batch(BATCH), store.garments(BATCH)[0].taken_out) == (head, "")


def complete(store: Store, garment: StoredGarment) -> StoredGarment:
    """All its hits in one tap, with nothing told of any peel."""
    told: list[Happening] = [TakenUp()]
    for step in garment.progress.steps:
        told += [Closed(step.hit.dwell_s), Opened(step.hit.dwell_s), AllPeeled(), Passed()]
    return tap(store, garment, *told[:-1], Completed())
