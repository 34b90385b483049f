"""Fixtures: a flow on a small floor; an app or a widget, of which nothing stays behind; a stored batch; a
job file.
"""

import weakref
from collections.abc import Callable, Iterator
from pathlib import Path
from random import Random
from typing import Any

import pytest

from floorapp.flow import Flow
from models.clock import HeldClock
from models.garment.progress import Recipe
from models.store.store import Store
from printables.system_fonts import SETTING, system_fonts
from tests.floorapp.commands import JOB
from tests.floorapp.driver import LANDSCAPE, Driver, time_line
from tests.floorapp.press_operator import PressOperator, app_on
from tests.held_clock import HeldClock as MorningClock
from tests.sample_jobs import crew_vest_job, crew_vest_plan, crew_vest_recipe
from tests.small_floor import flow_on, loaded_store

StartApp = Callable[..., Driver]


@pytest.fixture(autouse=True, scope="session")
def _no_fonts_of_this_computer(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """The fonts that a machine happens to have change no test."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv(SETTING, str(tmp_path_factory.mktemp("fonts")))
        system_fonts.cache_clear()
        yield
    system_fonts.cache_clear()


@pytest.fixture
def start_app(clock: MorningClock) -> Iterator[StartApp]:
    """Starts an app made by `make_app(clock)` on the store's own clock; at the test's end it is stopped, and
    must be gone.
    """
    time_line()  # Kivy is configured before a test imports anything of it
    drivers: list[Driver] = []
    apps: list[weakref.ref[Any]] = []

    def start(make_app: Callable[[HeldClock], Any], size: tuple[int, int] = LANDSCAPE) -> Driver:
        driver = Driver(make_app, size, clock)
        drivers.append(driver)
        apps.append(weakref.ref(driver.app))
        return driver.start()

    yield start
    for driver in drivers:
        if driver.app is not None:
            driver.stop()
    drivers.clear()
    assert not [app for app in (ref() for ref in apps) if app is not None], "an app outlived its test"


@pytest.fixture
def stage(start_app: StartApp) -> Driver:
    """An empty screen on which a test shows a widget of its own: `stage.app.root.add_widget(...)`."""
    return start_app(bare_app)


@pytest.fixture
def show(stage: Driver) -> Any:
    """Puts a widget on the screen, at the left lower corner."""

    def place(widget: Any) -> Any:
        stage.app.root.add_widget(widget)
        stage.frames(4)
        return widget

    return place


@pytest.fixture
def clock() -> MorningClock:
    return MorningClock()


@pytest.fixture
def recipe() -> Recipe:
    """What is worked on this floor: the sample batch of two vests, unless a module says otherwise."""
    return crew_vest_recipe()


@pytest.fixture
def store(tmp_path: Path, clock: MorningClock, recipe: Recipe) -> Iterator[Store]:
    """A real SQLite file with one batch of that recipe."""
    store = loaded_store(tmp_path, clock, recipe)
    yield store
    store.close()


@pytest.fixture
def flow(store: Store, clock: MorningClock, tmp_path: Path) -> Flow:
    """The screens of Station 1 on that store, without a window."""
    return flow_on(store, clock, tmp_path)


@pytest.fixture
def sit_down(start_app: StartApp, store: Store, tmp_path: Path) -> Callable[..., PressOperator]:
    """A person before the whole app, on that store."""

    def operator(size: tuple[int, int] = LANDSCAPE) -> PressOperator:
        return PressOperator(start_app(lambda clock: app_on(store, tmp_path, clock), size))

    return operator


def bare_app(_clock: HeldClock) -> Any:
    """An app with nothing on its screen."""
    from tests.floorapp.bare_app import BareApp

    return BareApp()


@pytest.fixture
def database(tmp_path: Path) -> str:
    return f"sqlite:///{tmp_path / 'floor.db'}"


@pytest.fixture
def batch(database: str) -> str:
    """The reference of a batch of two garments in the database."""
    store = Store.open(database, MorningClock(), Random(3))
    reference = store.add_batch(crew_vest_job(), crew_vest_plan()).reference
    store.close()
    return reference


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A job file to be named on a command line."""
    path = tmp_path / "vests.toml"
    path.write_text(JOB)
    return path


@pytest.fixture
def hurried(job: Path) -> Path:
    """The same job, its pieces pressed for four seconds only."""
    job.write_text(JOB.replace("least = 20", "least = 4"))
    return job


@pytest.fixture
def on_a_carrier(job: Path) -> Path:
    """The same job, its piece on a carrier that peels cold."""
    cold = JOB.replace('peel = "none"', 'peel = "cold"').replace("carrier = false", "carrier = true")
    job.write_text(cold)
    return job
