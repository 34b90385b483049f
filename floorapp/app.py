"""Starts the app: first the window, then, in a thread, the shop's store and the flow on it."""

import os
import socket
from pathlib import Path
from typing import TYPE_CHECKING

from floorapp.kivy_setup import configure_kivy, has_display, open_window
from floorapp.opening import Opening
from floorapp.seat_setting import SeatSetting, seat_setting
from models.clock import SteadyClock, SystemClock

if TYPE_CHECKING:
    from floorapp.background import Background
    from floorapp.flow import Flow


LAST_TAP_S = 10.0
"""A tap that still waits for the store when the app is closed gets this long to be stored."""


def run_app(database_url: str) -> None:
    """Opens the app on the database and returns when it is closed.

    Raises NoWindowError where no window can be opened, StorageError where the database cannot,
    BadRestSettingError where garments rest nowhere that is known, and BadNameError where the name of station
    or person cannot stand on an event.
    """
    setting = seat_setting(os.environ, socket.gethostname())
    configure_kivy(offscreen=not has_display())
    open_window()
    from floorapp.screen_thread import ScreenThread
    from floorapp.sounds import Sounds
    from floorapp.store_thread import StoreThread
    from floorapp.window_app import PressFloorApp

    clock, at_store = SteadyClock(SystemClock()), StoreThread()
    opening = Opening(lambda: build_flow(database_url, clock, ScreenThread(), at_store, setting))
    PressFloorApp(opening, Sounds()).run()
    if opening.is_over:
        at_store.finish(LAST_TAP_S)
        opening.result().work.store.close()


def build_flow(
    database_url: str,
    clock: SteadyClock,
    background: "Background",
    at_store: "Background",
    setting: SeatSetting,
) -> "Flow":
    """The flow on the shop's store, with this station's name and person on every event.

    Where the store is on a server, all stations go by the server's clock.
    """
    from floorapp.flow import Flow
    from floorapp.set_up_flow import SetUpFlow
    from models.floor.work import FloorWork, Seat, open_store

    seat = Seat(setting.station, setting.person, setting.rests)
    store = open_store(database_url, clock)
    clock.follow(store.server_ahead_s())
    work = FloorWork(store, clock, seat)
    set_up = SetUpFlow(work, background, Path.home(), papers_folder())
    return Flow(work, clock, set_up, background, at_store)


def papers_folder() -> Path:
    """Where tags and lists are written: a folder of ours among the user's documents."""
    from platformdirs import user_documents_path

    return user_documents_path() / "press-floor"
