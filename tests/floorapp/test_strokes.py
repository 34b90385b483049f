"""Lines as triangles: as wide as asked, mitred, and dashed in whole numbers."""

from itertools import pairwise
from math import dist

import pytest

from floorapp.widgets.strokes import FADE_PX, dashes, points_along, stroke, thinned, without_repeats

SQUARE = ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0))


def corners_of(triangles):
    return [tuple(triangles.vertices[k : k + 2]) for k in range(0, len(triangles.vertices), 4)]


def test_a_band_is_as_wide_as_the_line_and_its_soft_edges() -> None:
    left, right, *_ = corners_of(stroke([((0.0, 0.0), (10.0, 0.0))], 4.0))
    assert dist(left, right) == pytest.approx(4.0 + 2 * FADE_PX)


def test_a_square_is_mitred_at_its_corners() -> None:
    points = corners_of(stroke([SQUARE], 2.0, closed=True))
    assert (-2.0, -2.0) in [(round(x, 6), round(y, 6)) for x, y in points]


def test_a_closed_path_has_a_band_back_to_its_start() -> None:
    assert len(stroke([SQUARE], 2.0, closed=True).indices) == 4 * 6
    assert len(stroke([SQUARE], 2.0).indices) == 3 * 6


def test_a_sharp_corner_does_not_reach_out_far() -> None:
    needle = ((0.0, 0.0), (100.0, 1.0), (0.0, 2.0))
    assert max(x for x, _ in corners_of(stroke([needle], 4.0))) < 100 + 2.5 * 3 + 0.1


def test_dashes_fill_a_closed_path_evenly() -> None:
    pieces = dashes(SQUARE, 7.0, 3.0, closed=True)
    assert len(pieces) == 40
    assert all(sum(dist(a, b) for a, b in pairwise(p)) == pytest.approx(7.0) for p in pieces)


def test_an_open_path_begins_and_ends_with_a_dash() -> None:
    pieces = dashes(((0.0, 0.0), (100.0, 0.0)), 8.0, 4.0)
    assert pieces[0][0] == (0.0, 0.0)
    assert pieces[-1][-1] == pytest.approx((100.0, 0.0))


def test_a_dash_goes_around_a_corner() -> None:
    around = dashes(((0.0, 0.0), (50.0, 0.0), (50.0, 50.0)), 80.0, 20.0)
    assert around == [[(0.0, 0.0), (50.0, 0.0), pytest.approx((50.0, 50.0))]]


def test_a_path_of_no_length_has_no_dashes() -> None:
    assert dashes(((5.0, 5.0), (5.0, 5.0)), 8.0, 4.0) == []


def test_points_closer_than_a_pixel_are_left_out() -> None:
    fine = [(k / 10, 0.0) for k in range(101)]
    assert len(thinned(fine)) == 11


def test_a_tiny_outline_keeps_its_points() -> None:
    tiny = [(0.0, 0.0), (0.3, 0.0), (0.3, 0.3)]
    assert thinned(tiny) == tiny


def test_repeated_points_are_left_out() -> None:
    assert without_repeats([(0, 0), (0, 0), (1, 0), (0, 0)], closed=True) == [(0, 0), (1, 0)]


def test_points_along_a_path_are_no_further_apart_than_a_step() -> None:
    points = [*points_along(SQUARE, 3.0), SQUARE[-1]]
    assert points[0] == SQUARE[0]
    assert max(dist(a, b) for a, b in pairwise(points)) <= 3.0
