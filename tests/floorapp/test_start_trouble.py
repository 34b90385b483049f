"""Every failure at start is told in the window, with the ways on."""

import os
import sqlite3
import subprocess
import sys
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from floorapp.app import open_shop, record_of
from floorapp.known_databases import known_databases
from floorapp.opening import Opening
from floorapp.screen_names import ScreenName
from floorapp.screen_thread import ScreenThread
from floorapp.starting import Start
from floorapp.store_thread import StoreThread
from models.clock import SteadyClock
from models.store.backups import Backups
from models.store.errors import NotOurDatabaseError
from tests.floorapp.commands import ROOT
from tests.floorapp.driver import LANDSCAPE, PORTRAIT, Driver
from tests.held_clock import MORNING, HeldClock
from tests.small_floor import loaded_store

DISPLAYS = {"DISPLAY", "WAYLAND_DISPLAY"}


class Starter:
    """A person who opens the app on a database file and sees what comes of it."""

    def __init__(self, start_app: Callable[..., Driver], url: str, size: tuple[int, int] = LANDSCAPE) -> None:
        self.at_store = StoreThread(grace_s=20)
        self.driver = start_app(lambda clock: self._app(url, clock), size)
        self.wait()

    def _app(self, url: str, clock: Any) -> Any:
        from floorapp.sounds import Sounds
        from floorapp.window_app import PressFloorApp

        steady = SteadyClock(clock)

        def open_flow(is_new_meant: bool) -> Any:
            return open_shop(url, steady, ScreenThread(), self.at_store, is_new_meant=is_new_meant)

        start = Start(open_flow, lambda: record_of(url), steady)
        return PressFloorApp(Opening(start.open), Sounds(is_on=False), start)

    def wait(self) -> None:
        """Until the opening has ended, one way or the other."""
        self.driver.frames(3)
        self.driver.app.opening._thread.join(20)
        self.driver.advance(0.5, draw=True)

    def tap(self, words: str) -> None:
        self.driver.tap(next(w for w in self._seen() if getattr(w, "words", "").startswith(words)))
        self.wait()

    def sees(self, words: str) -> bool:
        return any(words in str(getattr(widget, "words", "")) for widget in self._seen())

    @property
    def is_on_the_floor(self) -> bool:
        desk = self.driver.app.desk
        return desk is not None and desk.flow.screen == ScreenName.FLOOR

    @property
    def batches(self) -> list[str]:
        return [batch.head.reference for batch in self.driver.app.desk.flow.batches]

    def close(self) -> None:
        """The store goes before the next test; the copies it makes end first."""
        if self.driver.app.desk is not None:
            self.driver.app.desk.flow.work.store.close()

    def _seen(self) -> list[Any]:
        return list(self.driver.app.holder.walk())


@pytest.fixture
def begin(start_app: Callable[..., Driver], tmp_path: Path) -> Any:
    starters: list[Starter] = []

    def starter(size: tuple[int, int] = LANDSCAPE) -> Starter:
        starters.append(Starter(start_app, f"sqlite:///{tmp_path / 'floor.db'}", size))
        return starters[-1]

    yield starter
    for each in starters:
        each.close()


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A database that was opened before, and of which there is a copy."""
    loaded_store(tmp_path, HeldClock()).close()
    file = tmp_path / "floor.db"
    Backups(file).make(MORNING)
    known_databases().remember(f"sqlite:///{file}")
    return file


def make_away(file: Path) -> None:
    for lying in file.parent.glob("floor.db*"):
        lying.unlink()


def test_a_sound_database_opens_on_the_floor(begin: Callable[..., Starter], file: Path) -> None:
    starter = begin()

    assert starter.is_on_the_floor
    assert starter.batches == ["LC-0147"]


def test_a_folder_that_is_not_there_is_told_and_tried_again(
    start_app: Callable[..., Driver], tmp_path: Path
) -> None:
    folder = tmp_path / "stick"
    starter = Starter(start_app, f"sqlite:///{folder / 'floor.db'}")
    assert starter.sees("The app cannot start")
    assert starter.sees("the file cannot be opened; see that its folder exists")

    folder.mkdir()
    starter.tap("Try again")
    assert starter.is_on_the_floor
    starter.close()


def test_the_foot_switch_tries_again(begin: Callable[..., Starter], file: Path) -> None:
    content = file.read_bytes()
    file.write_bytes(b"\xff" * 9000)
    starter = begin()
    assert starter.sees("this file is no database")

    file.write_bytes(content)
    starter.driver.press_key("page down")
    starter.wait()
    assert starter.is_on_the_floor


def test_a_damaged_database_is_restored_by_one_tap(begin: Callable[..., Starter], file: Path) -> None:
    file.write_bytes(b"\xff" * 9000)
    starter = begin()
    starter.tap("Restore the copy of ")

    assert starter.is_on_the_floor
    assert starter.batches == ["LC-0147"]
    assert [aside.read_bytes() for aside in file.parent.glob("floor.set-aside.*")] == [b"\xff" * 9000]


def test_a_record_without_the_shops_code_is_restored_by_one_tap(
    begin: Callable[..., Starter], file: Path
) -> None:
    with closing(sqlite3.connect(file)) as opened:
        opened.executescript("UPDATE shop SET code = '?'; UPDATE garments SET code = '?' || n")
    starter = begin()

    assert starter.sees("the shop's code is damaged")
    starter.tap("Restore the copy of ")
    assert starter.batches == ["LC-0147"]


def test_a_database_that_vanished_is_asked_about(begin: Callable[..., Starter], file: Path) -> None:
    make_away(file)
    starter = begin()

    assert starter.sees("this database was here at the last start and is gone")
    assert not file.exists()
    starter.tap("Restore the copy of ")
    assert starter.batches == ["LC-0147"]


def test_a_new_record_is_begun_only_if_that_is_said(begin: Callable[..., Starter], file: Path) -> None:
    make_away(file)
    starter = begin()
    starter.tap("Begin a new, empty record")

    assert starter.is_on_the_floor
    assert starter.batches == []


def test_a_copy_that_is_damaged_too_is_told_and_changes_nothing(
    begin: Callable[..., Starter], file: Path
) -> None:
    make_away(file)
    (copy,) = file.parent.glob("backups/*.db")
    copy.write_bytes(b"\xff" * 9000)
    starter = begin()
    starter.tap("Restore the copy of ")

    assert starter.sees("this file is no database")
    assert not file.exists()


@pytest.mark.parametrize(
    ("variable", "value"), [("FLOORAPP_STATION", "x" * 99), ("FLOORAPP_RESTS", "on the roof")]
)
def test_a_setting_that_cannot_be_is_told_as_well(
    begin: Callable[..., Starter], file: Path, monkeypatch: pytest.MonkeyPatch, variable: str, value: str
) -> None:
    monkeypatch.setenv(variable, value)
    starter = begin()

    assert starter.sees("The app cannot start")
    assert starter.sees(variable)
    assert not starter.sees("Restore the copy")


def test_a_fault_of_ours_is_told_by_its_name(
    begin: Callable[..., Starter], file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object) -> None:
        raise ZeroDivisionError("seven by nought")

    monkeypatch.setattr("models.floor.work.open_store", fail)
    assert begin().sees("A fault of this program: ZeroDivisionError: seven by nought")


@pytest.mark.parametrize("size", [LANDSCAPE, PORTRAIT], ids=["landscape", "portrait"])
def test_all_ways_on_are_on_the_screen(
    begin: Callable[..., Starter], file: Path, size: tuple[int, int]
) -> None:
    make_away(file)
    starter = begin(size)
    for words in ("Restore the copy of ", "Begin a new, empty record", "Quit", "Try again"):
        (button,) = (w for w in starter._seen() if getattr(w, "words", "").startswith(words) and w.children)
        assert button.y >= 0
        assert button.top <= size[1]
        assert button.x >= 0
        assert button.right <= size[0]


def test_without_a_display_the_failure_ends_the_app_with_a_line(tmp_path: Path) -> None:
    environ = {
        name: value for name, value in os.environ.items() if name not in {"DISPLAY", "WAYLAND_DISPLAY"}
    }
    url = f"sqlite:///{tmp_path / 'nowhere' / 'floor.db'}"
    command = [sys.executable, "-m", "floorapp.command_line", "--database", url]
    ended = subprocess.run(command, cwd=ROOT, env=environ, capture_output=True, text=True, check=False)

    assert ended.returncode == 2
    assert "the file cannot be opened" in ended.stderr
    assert "Traceback" not in ended.stderr


def test_the_first_frame_does_not_wait_for_the_store() -> None:
    program = (
        "import sys; import floorapp.app, floorapp.starting;"
        "loaded = {'sqlalchemy', 'models.store.database', 'floorapp.flow'} & set(sys.modules);"
        "sys.exit(f'loaded: {loaded}' if loaded else 0)"
    )
    subprocess.run([sys.executable, "-c", program], check=True, cwd=ROOT)


def test_who_quits_gets_the_reason_on_the_terminal_too(
    begin: Callable[..., Starter], file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file.write_bytes(b"\xff" * 9000)
    starter = begin()
    stopped: list[bool] = []
    monkeypatch.setattr(starter.driver.app, "stop", lambda: stopped.append(True))
    starter.tap("Quit")

    assert stopped == [True]
    with pytest.raises(NotOurDatabaseError, match="this file is no database"):
        starter.driver.app.opening.result()
    monkeypatch.undo()
