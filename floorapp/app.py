"""Starts the app: first the window, then, in a thread, the shop's store and the flow on it."""

import os
import socket
from pathlib import Path
from typing import TYPE_CHECKING

from floorapp.database_names import database_url
from floorapp.kivy_setup import configure_kivy, has_display, open_window
from floorapp.known_databases import known_databases
from floorapp.opening import Opening
from floorapp.os_errors import told_in_a_line
from floorapp.seat_setting import SeatSetting, seat_setting
from floorapp.starting import Start
from models.clock import SteadyClock, SystemClock

if TYPE_CHECKING:
    from floorapp.background import Background
    from floorapp.flow import Flow


LAST_TAP_S = 10.0
"""A tap that still waits for the store when the app is closed gets this long to be stored."""


def run_app(named: str | None) -> None:
    """Opens the app on the database that is named, or the shop's own, and returns when it is closed.

    What keeps it from opening is told in the window, and raised when that is closed; without a display it is
    raised at once. Raises NoWindowError where no window can be opened.
    """
    is_seen = has_display()
    if not is_seen:
        seat_setting(os.environ, socket.gethostname())  # a refusal is raised before anything is opened
    configure_kivy(offscreen=not is_seen)
    open_window()
    from floorapp.screen_thread import ScreenThread
    from floorapp.sounds import Sounds
    from floorapp.store_thread import StoreThread
    from floorapp.window_app import PressFloorApp

    clock, at_store = SteadyClock(SystemClock()), StoreThread()

    def open_flow(is_new_meant: bool) -> "Flow":
        return open_shop(named, clock, ScreenThread(), at_store, is_new_meant=is_new_meant)

    start = Start(open_flow, lambda: record_of(named), clock)
    app = PressFloorApp(Opening(start.open), Sounds(), start if is_seen else None)
    app.run()
    if app.opening.is_over:
        flow = app.opening.result()
        at_store.finish(LAST_TAP_S)
        flow.work.store.close()


def open_shop(
    named: str | None,
    clock: SteadyClock,
    background: "Background",
    at_store: "Background",
    *,
    is_new_meant: bool = False,
) -> "Flow":
    """The flow on the shop's store, as the environment says who works where.

    Raises FloorError: BadNameError, BadRestSettingError, StorageError; DatabaseVanishedError if the database
    has gone since the last start and no new one is meant.
    """
    setting = seat_setting(os.environ, socket.gethostname())
    with told_in_a_line():
        url = database_url(named)
        known = known_databases()
        if not is_new_meant:
            known.must_not_have_vanished(url, "restore a copy, or begin a new, empty record")
        flow = build_flow(url, clock, background, at_store, setting)
        known.remember(url)
    return flow


def record_of(named: str | None) -> Path | None:
    """The file of the database; None if it is on a server."""
    from models.store.database import Database

    database = Database(database_url(named))
    database.close()
    return database.file


def build_flow(
    database_url: str,
    clock: SteadyClock,
    background: "Background",
    at_store: "Background",
    setting: SeatSetting,
) -> "Flow":
    """The flow on the shop's store, with this station's name and person on every event.

    Where the store is on a server, all stations go by the server's clock; a file is copied once a day.
    """
    from floorapp.copy_keeper import CopyKeeper
    from floorapp.flow import Flow
    from floorapp.set_up_flow import SetUpFlow
    from models.floor.work import FloorWork, Seat, open_store
    from models.store.backups import Backups

    seat = Seat(setting.station, setting.person, setting.rests)
    store = open_store(database_url, clock)
    clock.follow(store.server_ahead_s())
    work = FloorWork(store, clock, seat)
    set_up = SetUpFlow(work, background, Path.home(), papers_folder())
    flow = Flow(work, clock, set_up, background, at_store)
    if store.file is not None:
        flow.copies = CopyKeeper(Backups(store.file), clock, background)
    return flow


def papers_folder() -> Path:
    """Where tags and lists are written: a folder of ours among the user's documents."""
    from platformdirs import user_documents_path

    return user_documents_path() / "press-floor"
