"""The demo: the whole work shown on two invented batches."""

import tempfile
from collections.abc import Callable
from pathlib import Path

from floorapp.demo_floor import load_demo
from floorapp.kivy_setup import has_display
from models.clock import SystemClock

Told = Callable[[str], None]


def run_demo(folder: Path | None, told: Told = print) -> None:
    """Opens the app on the demo batches; without a display it walks one and leaves pictures in `folder`."""
    if has_display():
        _open_app(told)
        return
    from floorapp.album import write_album

    write_album(folder or Path(tempfile.mkdtemp(prefix="press-floor-")), told)


def _open_app(told: Told) -> None:
    from floorapp.app import run_app
    from models.floor.work import open_store

    with tempfile.TemporaryDirectory(prefix="press-floor-") as place:
        url = f"sqlite:///{Path(place) / 'demo.db'}"
        told(
            "Planning the demo batches and loading them into a database that is gone when the app is closed."
        )
        store = open_store(url, SystemClock())
        reference = load_demo(store)
        codes = ", ".join(row.code for row in store.garments(reference)[:3])
        store.close()
        told(f"No scanner at hand? Type one of these codes on the Floor screen: {codes} …")
        run_app(url)
