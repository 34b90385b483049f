"""The store is asked off the screen's thread: a tap waits for it visibly, and the press goes on."""

import sqlite3
import threading
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from random import Random

import pytest

from floorapp.background import AtOnce
from floorapp.flow import Flow
from floorapp.screen_names import ScreenName
from floorapp.screens.floor_presenter import rail_of
from floorapp.screens.presenter import notice_of
from floorapp.screens.pressing_presenter import running_of
from floorapp.store_thread import StoreThread
from floorapp.views import Cue, Running, Tap
from models.errors import FloorError
from models.garment.cycle import State
from models.garment.events import Closed
from models.store.errors import ConnectionLostError
from models.store.store import Store
from tests.floorapp.press_operator import PressOperator, app_on
from tests.floorapp.taps import state_of, tap
from tests.held_clock import HeldClock
from tests.postgres_server import running_server
from tests.sample_jobs import crew_vest_recipe
from tests.small_floor import codes_of, flow_on

LOST = ConnectionLostError("the database server has not answered for 8 s; see that it runs")


Asked = tuple[Callable[[], object], Callable[[object], None], Callable[[FloorError], None]]


class SlowStore:
    """A store that answers when the test says so, or fails."""

    def __init__(self) -> None:
        self.asked: list[Asked] = []

    def run(
        self,
        work: Callable[[], object],
        done: Callable[[object], None],
        refused: Callable[[FloorError], None],
    ) -> None:
        self.asked.append((work, done, refused))

    def tell(self, told: Callable[[], None]) -> None:
        told()

    def answer(self) -> None:
        """All that was asked, in the order in which it was."""
        while self.asked:
            AtOnce().run(*self.asked.pop(0))

    def fail(self, *, has_stored: bool = False) -> None:
        """What was asked first is refused; it may have been stored, and its answer lost."""
        work, _, refused = self.asked.pop(0)
        if has_stored:
            work()
        refused(LOST)


@pytest.fixture
def slow() -> SlowStore:
    return SlowStore()


@pytest.fixture
def flow(store: Store, clock: HeldClock, tmp_path: Path, slow: SlowStore) -> Flow:
    """A garment is in hand, to be laid."""
    flow = flow_on(store, clock, tmp_path, at_store=slow)  # type: ignore[arg-type]  # it takes any work
    flow.scan(codes_of(store)[0])
    slow.answer()
    return flow


def running(flow: Flow) -> Running:
    shown = running_of(flow)
    assert shown is not None
    return shown


def test_a_tap_that_waits_for_the_store_says_so(flow: Flow, clock: HeldClock, slow: SlowStore) -> None:
    tap(flow, Tap.HOLD, "A piece is missing")
    clock.advance(3)
    notice = notice_of(flow)
    assert notice is not None
    assert notice.text == "Storing your tap … 3 s. It counts once this line is gone."
    assert state_of(flow) == State.LAYING

    slow.answer()
    assert notice_of(flow) is None
    assert state_of(flow) == State.HELD


def test_a_second_tap_is_not_taken_while_the_first_one_waits(flow: Flow, slow: SlowStore) -> None:
    tap(flow, Tap.CLOSE_PRESS)
    tap(flow, Tap.CLOSE_PRESS)
    tap(flow, Tap.TO_FLOOR)
    slow.answer()

    assert flow.screen == ScreenName.GARMENT
    assert [type(event.what) for event in flow.in_hand.log].count(Closed) == 1


def test_the_countdown_begins_with_the_tap_and_not_with_the_store(
    flow: Flow, clock: HeldClock, slow: SlowStore
) -> None:
    closed_at = clock.utc_now()
    tap(flow, Tap.CLOSE_PRESS)
    clock.advance(4)
    assert running(flow).left_s == 11
    assert running(flow).words == "the closing is not stored yet"

    slow.answer()
    assert running(flow).left_s == 11
    assert flow.in_hand.progress.closed_at == closed_at


def test_the_end_of_a_hit_is_called_while_its_closing_waits(
    flow: Flow, clock: HeldClock, slow: SlowStore
) -> None:
    tap(flow, Tap.CLOSE_PRESS)
    clock.advance(15)
    flow.tick()

    assert Cue.HIT_OVER in flow.signals.take()
    assert running(flow).is_over


def test_a_closing_that_the_store_refused_counts_on_and_is_stored_again(
    flow: Flow, store: Store, clock: HeldClock, slow: SlowStore
) -> None:
    tap(flow, Tap.CLOSE_PRESS)
    clock.advance(8)
    slow.fail()
    assert running(flow).left_s == 7
    primary = running(flow).primary
    assert primary is not None
    assert primary.text == "Store the closing again"

    flow.act(primary.action)
    slow.answer()
    assert running(flow).left_s == 7
    assert store.garment(flow.in_hand.row.code).progress.state == State.PRESSING


def test_a_closing_that_was_refused_can_be_told_never_to_have_been(flow: Flow, slow: SlowStore) -> None:
    tap(flow, Tap.CLOSE_PRESS)
    slow.fail()
    tap(flow, Tap.NEVER_CLOSED)

    assert running_of(flow) is None
    assert state_of(flow) == State.LAYING
    assert rail_of(flow) == ()


def test_a_closing_that_was_stored_after_all_counts_on(flow: Flow, clock: HeldClock, slow: SlowStore) -> None:
    """The server had stored it, and its answer was lost."""
    tap(flow, Tap.CLOSE_PRESS)
    clock.advance(5)
    slow.fail(has_stored=True)
    flow.look_around()
    slow.answer()

    assert flow.notice is not None
    assert flow.notice.text == "Your last tap was stored after all; this is where it stands now"
    assert running(flow).left_s == 10


def test_a_store_that_cannot_be_looked_at_is_told_until_it_can(flow: Flow, slow: SlowStore) -> None:
    flow.look_around()
    slow.fail()
    assert flow.notice is not None
    assert flow.notice.text == str(LOST)

    flow.look_around()
    slow.answer()
    assert flow.notice is None


def test_a_locked_file_does_not_hold_up_the_screen(
    start_app: Callable[..., object], store: Store, tmp_path: Path
) -> None:
    """In the real window, on the real thread: another program keeps the file locked while a hit runs."""
    at_store = StoreThread()
    operator = PressOperator(start_app(lambda clock: app_on(store, tmp_path, clock, at_store=at_store)))  # type: ignore[arg-type]
    operator.scan(codes_of(store)[0])
    wait_for_the_store(operator, at_store)
    operator.tap("Laid")
    wait_for_the_store(operator, at_store)
    operator.driver.advance(5, draw=True)
    with closing(sqlite3.connect(tmp_path / "floor.db", isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        operator.tap("Take back the closing")
        operator.driver.advance(3, draw=True)
        assert operator.sees("Storing your tap … 3 s")
        assert operator.sees("7")  # of 15 s: the countdown goes on
        other.execute("ROLLBACK")
    wait_for_the_store(operator, at_store)

    assert operator.flow.in_hand.progress.state == State.LAYING
    assert operator.sees("Laid. Press 15 s")


def test_a_server_that_hangs_holds_up_neither_countdown_nor_alarm(
    start_app: Callable[..., object], clock: HeldClock, tmp_path: Path
) -> None:
    """In the real window, on the real thread, with a real server whose processes stand still."""
    with running_server() as server:
        store = Store.open(server.empty_database(), clock, Random(7))
        recipe, at_store = crew_vest_recipe(), StoreThread()
        store.add_batch(recipe.job, recipe.plan)
        operator = PressOperator(start_app(lambda clock: app_on(store, tmp_path, clock, at_store=at_store)))  # type: ignore[arg-type]
        operator.scan(codes_of(store)[0])
        wait_for_the_store(operator, at_store)
        with server.hanging():
            operator.tap("Laid")
            operator.driver.advance(4, draw=True)
            assert operator.sees("Storing your tap … 4 s")
            assert operator.sees("the closing is not stored yet")
            operator.driver.advance(11, draw=True)
            assert operator.desk.is_flashing
            assert not at_store.finish(0)
        wait_for_the_store(operator, at_store)
        operator.tap("The press is open")
        wait_for_the_store(operator, at_store)

        assert operator.flow.in_hand.progress.state == State.PEELING
        store.close()


def wait_for_the_store(operator: PressOperator, at_store: StoreThread) -> None:
    """Until it has answered, and the screen has drawn it."""
    assert at_store.finish(20)
    operator.driver.frames(3)


def test_answers_come_in_the_order_of_the_questions() -> None:
    at_store, told = StoreThread(grace_s=0), list[int]()
    at_store.tell = lambda _: None  # type: ignore[method-assign]  # nobody draws
    is_free = threading.Event()
    at_store.run(is_free.wait, lambda _: told.append(1), lambda _: None)
    at_store.run(lambda: 2, told.append, lambda _: None)
    is_free.set()
    assert at_store.finish(20)
    at_store._hand_back()

    assert told == [1, 2]
