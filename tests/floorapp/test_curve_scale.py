"""Where a curve, its band, its ticks and the names of its levels come to lie on a plot."""

from itertools import combinations, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, box

from floorapp.views import Tone
from floorapp.widget_views import CurveView, Level
from floorapp.widgets.curve_scale import CurveScale, level_plates, ticks
from models.geometry import Box
from models.heat.estimates.curves import CurvePoint

PLOT = Box(100, 50, 240, 180)
NAME, GAP = (40.0, 20.0), 3.0
RISING = tuple(CurvePoint(s, 20 + 5.0 * s, 20 + 7.0 * s, 20 + 8.0 * s) for s in range(16))
FALLING = tuple(CurvePoint(10.0 * s, 110 - 8.0 * s, 120 - 8.0 * s, 130 - 8.0 * s) for s in range(12))


def view_of(points: tuple[CurvePoint, ...], *levels_c: float) -> CurveView:
    return CurveView("", Tone.PRESS, points, tuple(Level(at_c, f"{at_c}") for at_c in levels_c))


def plates_of(points: tuple[CurvePoint, ...], *levels_c: float) -> tuple[CurveScale, list[Box]]:
    view = view_of(points, *levels_c)
    scale = CurveScale.fitting(view, PLOT)
    return scale, level_plates(scale, view, [NAME] * len(levels_c), GAP)


def test_the_whole_curve_with_its_band_and_levels_lies_on_the_plot() -> None:
    view = view_of(RISING, 150)
    scale = CurveScale.fitting(view, PLOT)
    for x, y in (*scale.band_px(RISING), scale.to_px(0, 150)):
        assert PLOT.x <= x <= PLOT.right
        assert PLOT.y <= y <= PLOT.bottom


def test_a_second_later_lies_further_right_and_a_degree_more_higher() -> None:
    scale = CurveScale.fitting(view_of(RISING, 120), PLOT)
    (x, y), (later, higher) = scale.to_px(5, 60), scale.to_px(6, 61)
    assert later > x
    assert higher > y


def test_the_hatching_fills_the_band_and_nothing_else() -> None:
    scale = CurveScale.fitting(view_of(RISING, 120), PLOT)
    lines = scale.hatching(RISING, 8)
    assert [b[0][0] - a[0][0] for a, b in pairwise(lines)] == pytest.approx([8] * (len(lines) - 1))
    for (x, low), (_, high) in lines:
        at_s = (x - PLOT.x) / PLOT.width * 15
        assert low == pytest.approx(scale.to_px(at_s, 20 + 5 * at_s)[1])
        assert high == pytest.approx(scale.to_px(at_s, 20 + 8 * at_s)[1])


def test_a_garment_that_is_cold_at_once_can_be_drawn() -> None:
    still = tuple(CurvePoint(0.0, 30.0, 30.0, 30.0) for _ in range(3))
    scale = CurveScale.fitting(view_of(still, 43), PLOT)
    assert scale.hatching(still, 8) == []
    assert scale.to_px(0, 30)[0] == PLOT.x


@given(st.floats(0, 50), st.floats(1, 2_000), st.integers(2, 6))
def test_ticks_are_few_and_evenly_spread_round_numbers(lowest: float, length: float, most: int) -> None:
    found = ticks(lowest, lowest + length, most)
    assert len(found) <= most + 1
    assert len({round(b - a, 6) for a, b in pairwise(found)}) <= 1
    assert all(lowest - 1e-9 <= tick <= lowest + length and tick == int(tick) for tick in found)


def test_fifteen_seconds_are_counted_in_fives() -> None:
    assert ticks(0, 15, 4) == [0, 5, 10, 15]


def test_a_level_is_named_on_its_line() -> None:
    scale, (plate,) = plates_of(RISING, 100)
    assert plate.centre[1] == pytest.approx(scale.to_px(0, 100)[1])


def test_a_level_reached_late_is_named_before_the_curve_gets_there() -> None:
    scale, (plate,) = plates_of(RISING, 100)
    assert plate.right <= scale.to_px(80 / 7, 100)[0]


def test_a_level_reached_at_once_is_named_after_it() -> None:
    scale, (plate,) = plates_of(RISING, 30)
    assert plate.x >= scale.to_px(10 / 7, 30)[0]
    assert plate.right <= PLOT.right


def test_names_of_levels_close_together_stand_side_by_side() -> None:
    _, plates = plates_of(FALLING, 60, 51, 43)
    warm, hands, cold = plates
    assert warm.right < hands.x
    assert hands.right < cold.x


@pytest.mark.parametrize("width_px", [200, 240, 320, 480])
@pytest.mark.parametrize("half_life_s", [18, 30, 60])
def test_no_name_of_a_level_touches_the_likely_curve(width_px: int, half_life_s: int) -> None:
    """A garment that cools, on a plot as narrow as beside another one on an upright tablet."""
    cooling = tuple(cooled_for(3 * s, half_life_s) for s in range(40))
    view = view_of(cooling, 60, 51, 43)
    scale = CurveScale.fitting(view, Box(0, 0, width_px, 200))
    plates = level_plates(scale, view, [(46, 18), (50, 18), (38, 18)], 3)
    curve = LineString(scale.likely_px(cooling))

    for plate in plates:
        assert curve.distance(box(plate.x, plate.y, plate.right, plate.bottom)) > 2
        assert 0 < plate.x < plate.right < width_px
    for one, other in combinations(plates, 2):
        assert not one.shares_area_with(other)


def cooled_for(at_s: int, half_life_s: int) -> CurvePoint:
    likely_c = 23 + 107 * 0.5 ** (at_s / half_life_s)
    return CurvePoint(at_s, likely_c - 5, likely_c, likely_c + 5)


def test_a_level_that_is_never_reached_is_named_all_the_same() -> None:
    _, (plate,) = plates_of(RISING, 200)
    assert PLOT.x < plate.x < plate.right < PLOT.right
