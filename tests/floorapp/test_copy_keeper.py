"""The record is copied once a day while the app runs, and the Floor says how old the copy is."""

import sqlite3
from contextlib import closing
from datetime import timedelta
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from floorapp.background import AtOnce
from floorapp.copy_keeper import LOOK_S, CopyKeeper
from floorapp.flow import Flow
from floorapp.screens.floor_presenter import floor_view
from floorapp.views import Tone
from models.store.backups import Backups
from models.store.store import Store
from tests.floorapp.press_operator import PressOperator
from tests.held_clock import HeldClock

DAY_S = 24 * 60 * 60


@pytest.fixture
def backups(tmp_path: Path) -> Backups:
    return Backups(tmp_path / "floor.db")


@pytest.fixture
def kept(flow: Flow, store: Store, clock: HeldClock, backups: Backups) -> Flow:
    flow.copies = CopyKeeper(backups, clock, AtOnce())
    return flow


def test_a_copy_is_made_at_start_and_each_day(kept: Flow, clock: HeldClock, backups: Backups) -> None:
    for _ in range(3 * DAY_S // LOOK_S):
        kept.tick()
        clock.advance(LOOK_S)

    made = [copy.made_at for copy in reversed(backups.all())]
    assert [later - earlier for earlier, later in pairwise(made)] == [timedelta(days=1)] * 2


def test_the_floor_says_how_old_the_copy_is(kept: Flow, clock: HeldClock) -> None:
    kept.tick()
    record = floor_view(kept).record
    assert record is not None
    assert (record.text, record.tone) == ("Record copied just now", Tone.PLAIN)
    clock.advance(5 * 60 * 60)
    record = floor_view(kept).record
    assert record is not None
    assert (record.text, record.tone) == ("Record copied 5 h ago", Tone.PLAIN)


def test_a_copy_older_than_two_days_needs_somebody(kept: Flow, clock: HeldClock) -> None:
    kept.tick()
    clock.advance(2 * DAY_S + 1)
    record = floor_view(kept).record

    assert record is not None
    assert (record.text, record.tone) == ("Record copied 2 days ago", Tone.ATTENTION)


def test_a_copy_that_fails_says_why_and_is_tried_again(
    kept: Flow, clock: HeldClock, backups: Backups
) -> None:
    backups.folder.write_text("in the way")
    kept.tick()
    record = floor_view(kept).record
    assert record is not None
    assert record.text.startswith("The record could not be copied. ")
    assert "this folder for copies cannot be made" in record.text
    assert record.tone == Tone.ATTENTION

    backups.folder.unlink()
    clock.advance(LOOK_S)
    kept.tick()
    record = floor_view(kept).record
    assert record is not None
    assert record.text == "Record copied just now"


def test_a_damaged_record_stands_beside_the_copies_until_there_is_a_sound_one(
    kept: Flow, clock: HeldClock, tmp_path: Path
) -> None:
    kept.tick()
    with closing(sqlite3.connect(tmp_path / "floor.db")) as opened:
        opened.executescript("UPDATE garments SET wearer = 'Inez' WHERE n = 1")
    clock.advance(DAY_S)
    for _ in range(3):
        kept.tick()
        record = floor_view(kept).record
        assert record is not None
        assert "garment 1 of batch LC-0147 is damaged" in record.text
        clock.advance(LOOK_S)


def test_nothing_is_said_of_copies_before_it_is_known(kept: Flow) -> None:
    assert floor_view(kept).record is None


def test_a_floor_without_a_file_says_nothing_of_copies(flow: Flow) -> None:
    flow.tick()
    assert floor_view(flow).record is None


def test_the_line_stands_on_the_screen_once_the_copy_is_made(sit_down: Any, backups: Backups) -> None:
    operator: PressOperator = sit_down()
    flow = operator.flow
    flow.copies = CopyKeeper(backups, flow.clock, AtOnce())
    flow.listen(operator.desk.draw, operator.desk._show)
    operator.driver.advance(1, draw=True)

    assert operator.sees("Record copied just now")


def test_a_damaged_record_is_told_on_the_floor(
    flow: Flow, store: Store, tmp_path: Path, clock: HeldClock
) -> None:
    with closing(sqlite3.connect(tmp_path / "floor.db")) as opened:
        opened.executescript("UPDATE garments SET wearer = 'Inez', state = 'laying', station = 'Station 1'")
    flow.look_around()
    flow.tick()

    assert flow.standing.first is not None
    assert "garment 1 of batch LC-0147 is damaged" in flow.standing.first.text
    assert "Inez" not in flow.standing.first.text
