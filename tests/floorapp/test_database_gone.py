"""The database is deleted or replaced while the app has it open: the tap is refused in words."""

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from models.garment.cycle import State
from models.store.store import Store
from tests.floorapp.press_operator import PressOperator
from tests.small_floor import codes_of


def lay_another_over(file: Path) -> None:
    other = file.with_name("other.db")
    shutil.copyfile(file, other)
    other.replace(file)


@pytest.mark.parametrize("change", [Path.unlink, lay_another_over], ids=["deleted", "replaced"])
def test_a_tap_that_would_be_lost_is_refused_in_words(
    sit_down: Callable[..., PressOperator], store: Store, tmp_path: Path, change: Callable[[Path], object]
) -> None:
    code = codes_of(store)[0]
    operator = sit_down()
    operator.scan(code)
    change(tmp_path / "floor.db")
    operator.tap("Laid")

    assert operator.sees("this file was deleted, moved or replaced while it was open")
    assert operator.flow.in_hand.progress.state == State.LAYING
