"""Pieces that a finger drags on the placement map."""

from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from floorapp.widget_views import MapPiece, MapView, Role
from models.geometry import Box
from tests.floorapp.driver import Driver
from tests.sample_jobs import BACK, FOAM, box_piece

ANCHOR = box_piece("anchor", FOAM, Box(100, 300, 120, 120))
LAMP = box_piece("lamp", FOAM, Box(340, 300, 120, 120))
VIEW = MapView(BACK, tuple(MapPiece(piece, Role.NOW) for piece in (ANCHOR, LAMP)))
MIDDLE = (160.0, 360.0)


@pytest.fixture
def shown(stage: Driver) -> Any:
    from floorapp.widgets.placement_map import PlacementMap

    placed = PlacementMap(view=VIEW, can_mark=True, can_drag=True)
    stage.app.root.add_widget(placed)
    stage.frames(3)
    return placed


def told_by(shown: Any) -> list[tuple[Any, ...]]:
    told: list[tuple[Any, ...]] = []
    shown.bind(on_piece=lambda _, piece: told.append((piece,)))
    shown.bind(on_dragged=lambda _, *dragged: told.append(dragged))
    return told


def drag_mm(stage: Driver, shown: Any, start: tuple[float, float], end: tuple[float, float]) -> None:
    stage.drag(shown.scale.to_px(start), shown.scale.to_px(end))


def test_a_dragged_piece_is_told_with_its_shift_in_whole_mm(stage: Driver, shown: Any) -> None:
    told = told_by(shown)
    drag_mm(stage, shown, MIDDLE, (220.3, 319.8))
    assert told == [("anchor", 60, -40)]


def test_a_finger_that_hardly_moves_taps_the_piece(stage: Driver, shown: Any) -> None:
    told = told_by(shown)
    x, y = shown.scale.to_px(MIDDLE)
    stage.drag((x, y), (x + 6, y))
    assert told == [("anchor",)]


def test_a_piece_brought_back_to_where_it_was_is_not_told(stage: Driver, shown: Any) -> None:
    from kivy.tests.common import UnitTestTouch

    told = told_by(shown)
    x, y = shown.scale.to_px(MIDDLE)
    finger = UnitTestTouch(x, y)
    finger.touch_down()
    finger.touch_move(x + 90, y)
    finger.touch_move(x, y)
    finger.touch_up()
    stage.frames(2)
    assert told == []


def test_a_drag_beside_all_pieces_moves_nothing(stage: Driver, shown: Any) -> None:
    told = told_by(shown)
    drag_mm(stage, shown, (20, 650), (160, 360))
    assert told == []


def test_a_second_finger_does_not_take_another_piece_along(stage: Driver, shown: Any) -> None:
    from kivy.tests.common import UnitTestTouch

    told = told_by(shown)
    finger = UnitTestTouch(*shown.scale.to_px(MIDDLE))
    finger.touch_down()
    drag_mm(stage, shown, (400, 360), (400, 500))
    finger.touch_move(*shown.scale.to_px((260, 360)))
    finger.touch_up()
    stage.frames(2)
    assert told == [("anchor", 100, 0)]


def test_while_it_is_dragged_the_shift_stands_beside_the_piece(
    stage: Driver, shown: Any, tmp_path: Path
) -> None:
    """The picture changes on the way there, and is the same again once the finger is up."""
    from kivy.tests.common import UnitTestTouch

    before = stage.shot(tmp_path / "before.png")
    finger = UnitTestTouch(*shown.scale.to_px(MIDDLE))
    finger.touch_down()
    finger.touch_move(*shown.scale.to_px((300, 500)))
    on_the_way = stage.shot(tmp_path / "on-the-way.png")
    finger.touch_up()
    after = stage.shot(tmp_path / "after.png")

    assert pixels(before) != pixels(on_the_way)
    assert pixels(before) == pixels(after)


def test_a_map_on_which_nothing_is_dragged_takes_a_drag_as_a_tap(stage: Driver, shown: Any) -> None:
    told = told_by(shown)
    shown.can_drag = False
    drag_mm(stage, shown, MIDDLE, (260, 360))
    assert told == [("anchor",)]


def pixels(path: Path) -> bytes:
    with Image.open(path) as picture:
        return picture.tobytes()
