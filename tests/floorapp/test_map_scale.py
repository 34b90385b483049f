"""From mm to pixels and back, and which piece a finger means."""

import pytest

from floorapp.widget_views import MapPiece, MapView, Role
from floorapp.widgets.map_scale import MapScale, contains, distance, piece_at, shown_box, sign_place
from models.geometry import Box, Outline, Polygon
from tests.sample_jobs import BACK, FOAM, GLITTER, TWILL, box_piece, crew_vest_job, ring_of

TARGET_MM = 60.0


def view_of(*pieces, platen=None):
    return MapView(BACK, tuple(MapPiece(piece, Role.NOW) for piece in pieces), platen)


def test_a_side_is_drawn_as_large_as_the_room_allows_and_in_its_middle() -> None:
    scale = MapScale.fitting(Box(0, 0, 560, 700), Box(100, 50, 1000, 350))
    assert scale.px_per_mm == 0.5
    assert scale.to_px((0, 700)) == (460, 50)
    assert scale.to_px((560, 0)) == (740, 400)


def test_a_tap_is_read_back_in_mm() -> None:
    scale = MapScale.fitting(Box(0, 0, 560, 700), Box(0, 0, 400, 400))
    assert scale.to_mm(scale.to_px((123.0, 456.0))) == pytest.approx((123.0, 456.0))


def test_a_platen_that_hangs_over_the_side_is_shown_whole() -> None:
    assert shown_box(view_of(platen=Box(-20, 300, 400, 500))) == Box(-20, 0, 580, 800)


def test_a_tap_on_a_piece_means_that_piece() -> None:
    view = view_of(box_piece("anchor", FOAM, Box(100, 100, 100, 100)))
    assert piece_at(view, (150, 150), TARGET_MM) == "anchor"


def test_a_tap_where_two_pieces_lie_means_the_upper_one() -> None:
    below = box_piece("ring", TWILL, Box(100, 100, 200, 200))
    above = box_piece("wave", GLITTER, Box(150, 150, 100, 100))
    assert piece_at(view_of(below, above), (200, 200), TARGET_MM) == "wave"


def test_a_small_piece_on_a_large_one_keeps_a_whole_target() -> None:
    below = box_piece("ring", TWILL, Box(100, 100, 300, 300))
    above = box_piece("lamp", GLITTER, Box(240, 240, 20, 20))
    view = view_of(below, above)
    assert piece_at(view, (279, 250), TARGET_MM) == "lamp"  # 29 mm from its middle: half a target is 30
    assert piece_at(view, (282, 250), TARGET_MM) == "ring"


def test_beside_all_pieces_the_nearest_within_half_a_target_is_meant() -> None:
    view = view_of(
        box_piece("near", FOAM, Box(100, 100, 50, 50)), box_piece("far", FOAM, Box(200, 100, 50, 50))
    )
    assert piece_at(view, (170, 125), TARGET_MM) == "near"
    assert piece_at(view, (185, 125), TARGET_MM) == "far"


def test_a_tap_far_from_every_piece_means_none() -> None:
    assert piece_at(view_of(box_piece("anchor", FOAM, Box(0, 0, 50, 50))), (90, 90), TARGET_MM) is None
    assert piece_at(view_of(), (90, 90), TARGET_MM) is None


def test_the_hole_of_a_ring_is_not_the_ring() -> None:
    ring = crew_vest_job().piece("life-ring").outline
    assert contains(ring, (140, 300))
    assert not contains(ring, (280, 300))


def test_distance_is_to_the_nearest_edge() -> None:
    assert distance(Outline((Polygon(ring_of(Box(0, 0, 10, 10))),)), (13, 14)) == 5.0


def test_a_sign_stands_in_the_middle_of_a_plain_piece() -> None:
    assert sign_place(Outline((Polygon(ring_of(Box(0, 0, 40, 20))),))) == ((20.0, 10.0), 10.0)


def test_the_sign_of_a_ring_stands_on_the_ring() -> None:
    ring = crew_vest_job().piece("life-ring").outline
    spot, radius = sign_place(ring)
    assert contains(ring, spot)
    assert distance(ring, spot) == radius > 0


def test_a_sign_keeps_clear_of_what_lies_on_the_piece() -> None:
    below = Outline((Polygon(ring_of(Box(0, 0, 100, 100))),))
    above = Outline((Polygon(ring_of(Box(30, 30, 40, 40))),))
    spot, radius = sign_place(below, (above,))
    assert contains(below, spot)
    assert not contains(above, spot)
    assert radius > 8
