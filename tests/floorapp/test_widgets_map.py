"""The placement map on the screen: what is drawn where, and what a finger or a key does to it."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from floorapp.palette import CLOTH, DONE, HELD, PAPER, PRESS, Colour
from floorapp.widget_views import MapPiece, MapView, Role
from models.geometry import Box, Outline
from models.job.job import Side, Zone, ZoneKind
from tests.floorapp.driver import Driver
from tests.sample_jobs import BACK, FOAM, GLITTER, box_piece, crew_vest_job

ANCHOR = box_piece("anchor", FOAM, Box(100, 300, 120, 120))
LAMP = box_piece("lamp", FOAM, Box(340, 300, 120, 120))
SPECK = box_piece("speck", GLITTER, Box(155, 355, 10, 10))


@pytest.fixture
def map_of(stage: Driver) -> Any:
    """Shows a map that fills the screen."""
    from floorapp.widgets.placement_map import PlacementMap

    def show(view: MapView, **settings: Any) -> Any:
        shown = PlacementMap(view=view, **settings)
        stage.app.root.add_widget(shown)
        stage.frames(3)
        return shown

    return show


def view_of(*entries: tuple[Any, Role], side: Side = BACK, platen: Box | None = None) -> MapView:
    return MapView(side, tuple(MapPiece(piece, role) for piece, role in entries), platen)


def colours_on(stage: Driver, shown: Any, box: Box, tmp_path: Path) -> set[Colour]:
    """The colours of the pixels over a box on the side."""
    at = shown.scale.box_px(box)
    with Image.open(stage.shot(tmp_path / "map.png")) as picture:
        height = picture.height
        crop = picture.crop(tuple(map(round, (at.x, height - at.bottom, at.right, height - at.y))))
        return {(red / 255, green / 255, blue / 255, 1.0) for red, green, blue in crop.get_flattened_data()}


def touch_mm(stage: Driver, shown: Any, x: float, y: float) -> None:
    stage.touch(*shown.scale.to_px((x, y)))


def told_pieces(shown: Any) -> list[str]:
    told: list[str] = []
    shown.bind(on_piece=lambda _, piece: told.append(piece))
    return told


def test_a_piece_of_this_hit_is_filled(stage: Driver, map_of: Any, tmp_path: Path) -> None:
    shown = map_of(view_of((ANCHOR, Role.NOW)))
    assert colours_on(stage, shown, Box(140, 340, 40, 40), tmp_path) == {PRESS}


def test_a_piece_to_peel_now_is_filled(stage: Driver, map_of: Any, tmp_path: Path) -> None:
    shown = map_of(view_of((ANCHOR, Role.PEEL)))
    assert colours_on(stage, shown, Box(140, 340, 40, 40), tmp_path) == {PRESS}


def test_a_piece_to_leave_alone_is_pale_without_a_tick(stage: Driver, map_of: Any, tmp_path: Path) -> None:
    shown = map_of(view_of((ANCHOR, Role.LEAVE)))
    assert colours_on(stage, shown, Box(140, 340, 40, 40), tmp_path) == {PAPER}


def test_a_piece_that_is_down_is_pale_with_a_tick(stage: Driver, map_of: Any, tmp_path: Path) -> None:
    shown = map_of(view_of((ANCHOR, Role.DOWN)))
    assert {PAPER, DONE} <= colours_on(stage, shown, Box(140, 340, 40, 40), tmp_path)


def test_a_later_piece_is_not_filled(stage: Driver, map_of: Any, tmp_path: Path) -> None:
    shown = map_of(view_of((ANCHOR, Role.LATER)))
    assert colours_on(stage, shown, Box(140, 340, 40, 40), tmp_path) == {CLOTH}


def test_a_marked_piece_has_a_cross(stage: Driver, map_of: Any, tmp_path: Path) -> None:
    shown = map_of(view_of((ANCHOR, Role.MARKED)))
    assert HELD in colours_on(stage, shown, Box(155, 355, 10, 10), tmp_path)


def test_a_marked_piece_under_another_still_shows_its_cross(
    stage: Driver, map_of: Any, tmp_path: Path
) -> None:
    cover = box_piece("cover", GLITTER, Box(110, 310, 100, 100))
    shown = map_of(view_of((ANCHOR, Role.MARKED), (cover, Role.DOWN)))
    assert HELD in colours_on(stage, shown, Box(155, 355, 10, 10), tmp_path)


def test_the_hole_of_a_ring_shows_the_cloth(stage: Driver, map_of: Any, tmp_path: Path) -> None:
    shown = map_of(view_of((crew_vest_job().piece("life-ring"), Role.NOW)))
    assert colours_on(stage, shown, Box(240, 280, 80, 80), tmp_path) == {CLOTH}
    assert PRESS in colours_on(stage, shown, Box(140, 300, 40, 20), tmp_path)


def test_a_piece_in_two_parts_is_drawn_in_both(stage: Driver, map_of: Any, tmp_path: Path) -> None:
    both = Outline((*ANCHOR.outline.polygons, *LAMP.outline.polygons))
    apart = replace(ANCHOR, outline=both)
    shown = map_of(view_of((apart, Role.NOW)))
    assert colours_on(stage, shown, Box(380, 340, 40, 40), tmp_path) == {PRESS}


def test_a_keep_out_is_hatched(stage: Driver, map_of: Any, tmp_path: Path) -> None:
    zip_zone = Zone(ZoneKind.KEEP_OUT, Box(270, 500, 60, 150), "zip")
    shown = map_of(view_of(side=replace(BACK, zones=(zip_zone,))))
    assert {CLOTH, HELD} <= colours_on(stage, shown, Box(280, 520, 40, 100), tmp_path)


def test_a_tap_tells_the_piece(stage: Driver, map_of: Any) -> None:
    shown = map_of(view_of((ANCHOR, Role.DOWN), (LAMP, Role.DOWN)), can_mark=True)
    told = told_pieces(shown)
    touch_mm(stage, shown, 400, 360)
    assert told == ["lamp"]


def test_a_speck_can_be_hit_with_a_gloved_finger(stage: Driver, map_of: Any) -> None:
    from floorapp import theme

    shown = map_of(view_of((ANCHOR, Role.DOWN), (SPECK, Role.DOWN)), can_mark=True)
    told = told_pieces(shown)
    x, y = shown.scale.to_px((160, 360))
    stage.touch(x + theme.px(theme.TARGET_MM) / 2 - 2, y)
    assert told == ["speck"]


def test_a_tap_beside_the_garment_tells_nothing(stage: Driver, map_of: Any) -> None:
    shown = map_of(view_of((ANCHOR, Role.DOWN)), can_mark=True)
    told = told_pieces(shown)
    stage.touch(20, 20)
    assert told == []


def test_a_map_that_only_shows_takes_no_taps(stage: Driver, map_of: Any) -> None:
    shown = map_of(view_of((ANCHOR, Role.DOWN)))
    told = told_pieces(shown)
    touch_mm(stage, shown, 160, 360)
    assert told == []


def test_the_keys_reach_every_piece(stage: Driver, map_of: Any) -> None:
    from floorapp.focus import FocusRing

    shown = map_of(view_of((ANCHOR, Role.DOWN), (LAMP, Role.DOWN)), can_mark=True)
    told = told_pieces(shown)
    ring = FocusRing(lambda: stage.app.root)
    for _ in range(2):
        ring.move(1)
        ring.activate()
    assert told == ["anchor", "lamp"]


def test_marking_a_piece_keeps_the_frame_on_it(stage: Driver, map_of: Any) -> None:
    from floorapp.focus import FocusRing

    shown = map_of(view_of((ANCHOR, Role.DOWN), (LAMP, Role.DOWN)), can_mark=True)
    FocusRing(lambda: stage.app.root).move(1)
    shown.view = view_of((ANCHOR, Role.MARKED), (LAMP, Role.DOWN))
    stage.frames(2)
    assert [target.piece_id for target in shown.children if target.is_focused] == ["anchor"]


def test_nothing_is_drawn_anew_while_nothing_changes(stage: Driver, map_of: Any) -> None:
    shown = map_of(view_of((ANCHOR, Role.NOW), (LAMP, Role.LATER), platen=Box(80, 200, 400, 500)))
    before = [id(instruction) for instruction in shown.canvas.before.children]
    shown.view = view_of((ANCHOR, Role.NOW), (LAMP, Role.LATER), platen=Box(80, 200, 400, 500))
    stage.advance(1.0)
    assert [id(instruction) for instruction in shown.canvas.before.children] == before


def test_a_garment_turned_over_is_drawn_anew(stage: Driver, map_of: Any, tmp_path: Path) -> None:
    shown = map_of(view_of((ANCHOR, Role.NOW)))
    shown.view = view_of(side=replace(BACK, name="front", zones=()))
    stage.frames(2)
    assert colours_on(stage, shown, Box(140, 340, 40, 40), tmp_path) == {CLOTH}


def test_the_names_keep_clear_of_the_pieces_where_there_is_room(stage: Driver, map_of: Any) -> None:
    from floorapp.widgets.map_names import MapNames

    shown = map_of(view_of((ANCHOR, Role.DOWN), platen=Box(80, 70, 400, 500)))
    names = MapNames(shown.canvas.after, shown.scale, Box(*shown.pos, *shown.size))
    names.draw(shown.view)
    piece, *plates = names.taken
    assert len(plates) == 2  # the platen's and the seam's
    assert not any(plate.shares_area_with(piece) for plate in plates)


def test_the_names_do_not_hide_the_garments_edge_where_there_is_room(stage: Driver, map_of: Any) -> None:
    from floorapp.widgets.map_names import MapNames

    pocket = Zone(ZoneKind.RAISED, Box(470, 400, 80, 120), "pocket")
    shown = map_of(view_of(side=replace(BACK, zones=(pocket,))))
    names = MapNames(shown.canvas.after, shown.scale, Box(*shown.pos, *shown.size))
    names.draw(shown.view)
    (plate,) = names.taken
    assert not any(plate.x < x < plate.right and plate.y < y < plate.bottom for x, y in names.lines)


def test_the_names_stay_in_their_room(stage: Driver, map_of: Any) -> None:
    from floorapp.widgets.map_names import MapNames

    shown = map_of(view_of(platen=Box(-100, 300, 760, 500)))
    room = Box(*shown.pos, *shown.size)
    names = MapNames(shown.canvas.after, shown.scale, room)
    names.draw(shown.view)
    assert all(room.holds(plate) for plate in names.taken)


def test_a_name_rather_lies_on_any_other_piece_than_on_a_marked_one(stage: Driver, map_of: Any) -> None:
    """The seam runs through three pieces, and there is no room beside the side: the mark is the smallest."""
    from floorapp.widgets.map_names import MapNames

    left, right = (box_piece(name, FOAM, Box(x, 0, 188, 190)) for name, x in (("left", 0), ("right", 372)))
    lamp = box_piece("lamp", FOAM, Box(240, 60, 80, 130))
    shown = map_of(view_of((left, Role.DOWN), (right, Role.DOWN), (lamp, Role.MARKED)))
    names = MapNames(shown.canvas.after, shown.scale, shown.scale.box_px(Box(0, 0, 560, 700)))
    names.draw(shown.view)
    *_, name = names.taken
    (mark,) = names.marked

    assert not name.shares_area_with(mark)
