"""Stations whose computers' clocks are wrong work on one server, and go by its clock."""

from collections.abc import Iterator
from contextlib import ExitStack
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

import models.clock
from floorapp.app import build_flow
from floorapp.background import AtOnce
from floorapp.flow import Flow
from floorapp.opened_store import open_store
from floorapp.screens.floor_presenter import rail_of
from floorapp.seat_setting import SeatSetting
from floorapp.views import Cue, Tap
from models.clock import SteadyClock, SystemClock
from models.garment.cycle import State
from models.garment.events import Opened
from models.job.job import Peel
from models.recipe.places import REST_PLACE
from tests.floorapp.taps import state_of, tap
from tests.postgres_server import PostgresServer, running_server
from tests.small_floor import codes_of, rested_vests

DIFFERS = pytest.mark.parametrize("differs_s", [-600, -5, 5, 600])


class Computer(SystemClock):
    """Its clock is off by `differs_s`. Time goes on as it does, and may be moved on."""

    def __init__(self, differs_s: float) -> None:
        self.differs_s, self.passed_s = differs_s, 0.0

    def utc_now(self) -> datetime:
        return super().utc_now() + timedelta(seconds=self.differs_s + self.passed_s)

    def monotonic_ns(self) -> int:
        return super().monotonic_ns() + round(self.passed_s * 1e9)


class Stations:
    """Each with a computer and a store of its own on the one server, as the app opens them."""

    def __init__(self, url: str) -> None:
        self._url, self._open = url, ExitStack()
        self._computers: list[Computer] = []

    def add(self, name: str, differs_s: float) -> Flow:
        """All of them before any time is let pass: the server's clock goes with this machine's."""
        computer = Computer(differs_s)
        self._computers.append(computer)
        seat = SeatSetting(name, "Mette", REST_PLACE)
        flow = build_flow(self._url, SteadyClock(computer), AtOnce(), AtOnce(), seat)
        self._open.callback(flow.work.store.close)
        return flow

    def wait(self, seconds: float) -> None:
        for computer in self._computers:
            computer.passed_s += seconds

    def close(self) -> None:
        self._open.close()


@pytest.fixture(scope="module")
def server() -> Iterator[PostgresServer]:
    with running_server() as server:
        yield server


@pytest.fixture
def stations(server: PostgresServer) -> Iterator[Stations]:
    """A server with a batch of two vests, whose cold peels rest 70 s."""
    stations = Stations(server.empty_database())
    recipe = rested_vests(2)
    loading = stations.add("the office", 0).work.store
    loading.add_batch(recipe.job, recipe.plan, recipe.heat_findings, recipe.rests)
    yield stations
    stations.close()


def pressed_and_rested(flow: Flow, stations: Stations, code: str) -> None:
    flow.scan(code)
    tap(flow, Tap.CLOSE_PRESS)
    stations.wait(15)
    tap(flow, Tap.PRESS_IS_OPEN)
    tap(flow, Tap.PEEL, Peel.HOT.value)


@DIFFERS
def test_a_rest_at_a_station_with_a_wrong_clock_ends_when_it_is_over(
    stations: Stations, differs_s: int
) -> None:
    right, wrong = stations.add("Station 1", 0), stations.add("Station 2", differs_s)
    pressed_and_rested(wrong, stations, codes_of(wrong.work.store)[0])
    right.look_around()
    right.tick()
    (item,) = rail_of(right)
    early = right.signals.take()
    stations.wait(75)
    right.tick()

    assert item.left_s is not None
    assert 40 <= item.left_s <= 70  # some real seconds may have passed meanwhile
    assert not item.is_doubtful
    assert early == []
    assert right.signals.take() == [Cue.REST_OVER]


@DIFFERS
def test_true_seconds_of_a_closing_at_a_station_with_a_wrong_clock_are_taken(
    stations: Stations, differs_s: int
) -> None:
    right, wrong = stations.add("Station 1", 0), stations.add("Station 2", differs_s)
    code = codes_of(wrong.work.store)[0]
    wrong.scan(code)
    tap(wrong, Tap.CLOSE_PRESS)
    stations.wait(18)
    right.scan(code)
    tap(right, Tap.OPENED_EARLY)
    right.enter_seconds(18)

    assert state_of(right) == State.PEELING
    assert [event.what for event in right.in_hand.log if isinstance(event.what, Opened)] == [
        Opened(18, judged=True)
    ]


@DIFFERS
def test_a_batch_that_is_loaded_by_a_command_has_the_servers_time(
    server: PostgresServer, monkeypatch: pytest.MonkeyPatch, tmp_path: Path, differs_s: int
) -> None:
    monkeypatch.setattr(models.clock, "SystemClock", lambda: Computer(10 * differs_s))
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    recipe = rested_vests(1)
    with open_store(server.empty_database(), may_be_new=True) as store:
        batch = store.add_batch(recipe.job, recipe.plan)

    differs = batch.created_at - datetime.now(UTC)
    assert abs(differs.total_seconds()) < abs(10 * differs_s) / 2


@DIFFERS
def test_the_station_whose_clock_is_wrong_says_so_and_the_others_do_not(
    stations: Stations, differs_s: int
) -> None:
    right, wrong = stations.add("Station 1", 0), stations.add("Station 2", differs_s)
    for flow in (right, wrong):
        flow.tick()

    assert right.standing.first is None
    assert wrong.standing.first is not None
    assert "Let a time server set this station's clock." in wrong.standing.first.text
