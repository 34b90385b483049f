"""No screen asks the store on the thread that draws: the whole app is walked, and each asking is watched."""

import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from floorapp.app import build_flow
from floorapp.opening import Opening
from floorapp.screen_names import ScreenName
from floorapp.screen_thread import ScreenThread
from floorapp.seat_setting import SeatSetting
from floorapp.store_thread import StoreThread
from floorapp.views import Action, Tap
from models.clock import HeldClock, SteadyClock
from models.job.job import Peel
from models.recipe.places import REST_PLACE
from models.store.database import Database
from models.store.store import Store
from tests.floorapp.press_operator import BETWEEN_TAPS_S, PressOperator
from tests.small_floor import codes_of


@pytest.fixture
def asked_by(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The names of the threads that have asked the store."""
    threads: list[str] = []

    def watched(asking: Callable[..., Any]) -> Callable[..., Any]:
        @contextmanager
        def ask(database: Database, *settings: Any) -> Iterator[Any]:
            threads.append(threading.current_thread().name)
            with asking(database, *settings) as connection:
                yield connection

        return ask

    for name in ("reading", "writing"):
        monkeypatch.setattr(Database, name, watched(getattr(Database, name)))
    return threads


class SlowOperator:
    """Taps, and waits until all that follows from it off the screen's thread is drawn."""

    def __init__(self, driver: Any, at_store: StoreThread) -> None:
        self.operator, self.at_store = PressOperator(driver), at_store

    def tap(self, tap: Tap, value: str = "") -> None:
        self.operator.driver.advance(BETWEEN_TAPS_S)
        self.operator.desk.act(Action(tap, value))
        self._wait()

    def scan(self, code: str) -> None:
        self.operator.scan(code)
        self._wait()

    def _wait(self) -> None:
        for _ in range(3):  # an answer may ask further
            assert self.at_store.finish(20)
            for thread in threading.enumerate():
                if thread.name == "long work":
                    thread.join(20)
            self.operator.driver.advance(0.2, draw=True)


def test_the_store_is_asked_on_other_threads_only(
    start_app: Callable[..., Any], store: Store, tmp_path: Path, asked_by: list[str]
) -> None:
    from floorapp.sounds import Sounds
    from floorapp.window_app import PressFloorApp

    at_store, code = StoreThread(), codes_of(store)[0]

    def app(clock: HeldClock) -> PressFloorApp:
        setting, url = SeatSetting("Station 1", "Mette", REST_PLACE), f"sqlite:///{tmp_path / 'floor.db'}"
        flow = Opening(lambda: build_flow(url, SteadyClock(clock), ScreenThread(), at_store, setting))
        return PressFloorApp(flow, Sounds(is_on=False))

    operator = SlowOperator(start_app(app), at_store)
    flow = operator.operator.flow
    asked_by.clear()

    operator.scan(code)
    operator.tap(Tap.WHY)
    operator.tap(Tap.BACK)
    operator.tap(Tap.CLOSE_PRESS)
    operator.operator.driver.advance(15, draw=True)
    operator.tap(Tap.PRESS_IS_OPEN)
    operator.tap(Tap.PEEL, Peel.HOT.value)
    operator.tap(Tap.TO_FLOOR)
    operator.tap(Tap.OPEN_CODE, code)
    operator.tap(Tap.PEEL, Peel.COLD.value)
    operator.tap(Tap.LOOK_CLOSER, flow.in_hand.progress.hit.count[0])
    operator.tap(Tap.HOLD, "It lifts")
    operator.tap(Tap.TAKE_BACK)
    operator.tap(Tap.TO_REVIEW, "LC-0147")
    assert flow.screen == ScreenName.REVIEW
    operator.tap(Tap.WHAT_IF, "LC-0147")
    assert flow.screen == ScreenName.WHAT_IF
    operator.tap(Tap.BACK)
    operator.tap(Tap.TO_SET_UP)
    operator.tap(Tap.TO_FIND)
    operator.tap(Tap.KEY, "I")
    operator.tap(Tap.CHANGE_GARMENT, code)
    operator.tap(Tap.TAKE_OUT, "torn")
    operator.tap(Tap.PUT_BACK)
    operator.tap(Tap.TO_CORRECT)
    operator.tap(Tap.KEY, "X")
    operator.tap(Tap.SAVE_WEARER)
    operator.tap(Tap.PRINT_TAG, code)
    operator.tap(Tap.CHANGE_BATCH, "LC-0147")
    operator.tap(Tap.TO_ADD)
    operator.tap(Tap.SAVE_WEARER)
    assert flow.remedies.garment.row.n == 3
    flow.look_around()
    flow.work.store.close()

    assert len(asked_by) > 20
    assert threading.main_thread().name not in asked_by
