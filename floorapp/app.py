"""Starts the app: window and store are opened side by side, then the flow is handed to the window."""

import os
import socket
from pathlib import Path

from floorapp.background import Background
from floorapp.flow import Flow
from floorapp.kivy_setup import configure_kivy, has_display, open_window
from floorapp.opening import Opening
from models.clock import Clock, SystemClock


def run_app(database_url: str) -> None:
    """Opens the app on the database and returns when it is closed.

    Raises NoWindowError where no window can be opened, and StorageError where the database cannot.
    """
    configure_kivy(offscreen=not has_display())
    clock = SystemClock()
    background = _screen_thread()
    opening = Opening(lambda: build_flow(database_url, clock, background))
    open_window()
    from floorapp.sounds import Sounds
    from floorapp.window_app import PressFloorApp

    PressFloorApp(opening, Sounds()).run()
    opening.result().work.store.close()


def build_flow(database_url: str, clock: Clock, background: Background) -> Flow:
    """The flow on the shop's store, with this station's name and person on every event."""
    from floorapp.set_up_flow import SetUpFlow
    from models.floor.work import FloorWork, Seat, open_store

    station = os.environ.get("FLOORAPP_STATION") or socket.gethostname()
    seat = Seat(station, os.environ.get("FLOORAPP_PERSON", ""))
    work = FloorWork(open_store(database_url, clock), clock, seat)
    set_up = SetUpFlow(work, background, Path.home(), papers_folder())
    return Flow(work, clock, set_up, background)


def papers_folder() -> Path:
    """Where tags and lists are written: a folder of ours among the user's documents."""
    from platformdirs import user_documents_path

    return user_documents_path() / "press-floor"


def _screen_thread() -> Background:
    from floorapp.screen_thread import ScreenThread

    return ScreenThread()
