"""Circles, boxes and polygons, sized, turned and placed on their side."""

import math

import pytest
from shapely import Polygon

from models.geometry import Box
from models.job.fault_list import UnreadableError
from models.job.outlines import from_shapely
from models.job.schema import ShapeEntry, UnitsEntry
from models.job.shapes import area_of
from models.job.si import Si

MM = Si(UnitsEntry())
AT = (280.0, 240.0)
L_SHAPE = [(0, 0), (30, 0), (30, 10), (10, 10), (10, 40), (0, 40)]


def placed(turn: float = 0, *, drawing: Polygon | None = None, si: Si = MM, **shape: object):
    return area_of(ShapeEntry.model_validate(shape), drawing, AT, turn, si)


def box_of(area) -> Box:
    return from_shapely(area).box


def test_a_circle_is_as_wide_as_its_number_and_its_box_is_exact():
    assert box_of(placed(circle=50)) == Box(255, 215, 50, 50)


@pytest.mark.parametrize("diameter", [0.01, 1, 50, 333.3, 2000])
def test_a_circle_s_chords_run_less_than_a_twentieth_of_a_mm_inside_it(diameter):
    corners = from_shapely(placed(circle=diameter)).polygons[0].exterior
    middles = [
        ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        for a, b in zip(corners, corners[1:] + corners[:1], strict=True)
    ]
    assert max(diameter / 2 - math.dist(middle, AT) for middle in middles) < 0.05


def test_a_turn_leaves_a_circle_as_it_is():
    assert placed(33, circle=50).equals(placed(circle=50))


def test_a_box_is_centred():
    assert box_of(placed(box=[100, 20])) == Box(230, 230, 100, 20)


def test_a_quarter_turn_lays_a_box_on_its_side_exactly():
    assert box_of(placed(90, box=[100, 20])) == Box(270, 190, 20, 100)


def test_a_turn_goes_clockwise():
    pointing_up = [(0, -30), (5, 0), (-5, 0)]
    assert box_of(placed(90, polygon=pointing_up)) == Box(280, 235, 30, 10)


def test_a_slanted_box_is_as_wide_as_its_diagonals_say():
    box = box_of(placed(45, box=[100, 100]))
    assert box.width == pytest.approx(100 * math.sqrt(2), rel=1e-12)


def test_a_polygon_s_points_count_from_at():
    assert box_of(placed(polygon=L_SHAPE)) == Box(280, 240, 30, 40)


def test_a_polygon_turns_about_at_and_not_about_its_middle():
    assert box_of(placed(180, polygon=L_SHAPE)) == Box(250, 200, 30, 40)


def test_a_polygon_may_repeat_its_first_point_at_the_end():
    assert placed(polygon=[*L_SHAPE, L_SHAPE[0]]).equals(placed(polygon=L_SHAPE))


def test_inches_become_mm():
    corners = placed(si=Si(UnitsEntry(length="in")), box=[10, 2]).bounds
    assert corners == pytest.approx((280 - 127, 240 - 25.4, 280 + 127, 240 + 25.4), rel=1e-12)


def test_a_drawing_is_sized_to_its_width_in_proportion_and_centred():
    drawing = Polygon([(1000, 1000), (1200, 1000), (1200, 1050), (1000, 1050)])
    assert box_of(placed(drawing=drawing, svg="a.svg", width=80)) == Box(240, 230, 80, 20)


def test_a_drawing_is_sized_before_it_is_turned():
    drawing = Polygon([(0, 0), (200, 0), (200, 50), (0, 50)])
    assert box_of(placed(270, drawing=drawing, svg="a.svg", width=80)) == Box(270, 200, 20, 80)


@pytest.mark.parametrize(
    ("polygon", "wrong"),
    [
        ([(0, 0), (10, 10), (10, 0), (0, 10)], "the outline crosses itself"),
        ([(0, 0), (20, 0), (20, 20), (10, 0), (0, 20)], "the outline crosses itself"),  # touches its own edge
        ([(0, 0), (10, 10), (20, 20)], "the outline has no area"),
        ([(5, 5), (5, 5), (5, 5)], "the outline has no area"),
    ],
)
def test_an_outline_that_encloses_nothing_clearly_is_refused(polygon, wrong):
    with pytest.raises(UnreadableError) as refused:
        placed(polygon=polygon)
    assert refused.value.wrong == wrong
