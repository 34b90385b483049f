"""Fixtures that start an app, or show one widget, and see that nothing of it stays behind."""

import weakref
from collections.abc import Callable, Iterator
from typing import Any

import pytest

from models.clock import HeldClock
from tests.floorapp.driver import LANDSCAPE, Driver

StartApp = Callable[..., Driver]


@pytest.fixture
def start_app() -> Iterator[StartApp]:
    """Starts an app made by `make_app(clock)`; at the test's end it is stopped, and must be gone."""
    drivers: list[Driver] = []
    apps: list[weakref.ref[Any]] = []

    def start(make_app: Callable[[HeldClock], Any], size: tuple[int, int] = LANDSCAPE) -> Driver:
        driver = Driver(make_app, size)
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


def bare_app(_clock: HeldClock) -> Any:
    """An app with nothing on its screen."""
    from tests.floorapp.bare_app import BareApp

    return BareApp()
