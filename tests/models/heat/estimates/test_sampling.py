"""Courses of temperature as points that a screen can draw."""

import numpy as np
import pytest

from models.heat.estimates.sampling import POINTS, curve_of

SECONDS = np.linspace(0.0, 20.0, 1_000)


def test_a_curve_has_as_many_points_as_a_screen_can_draw_evenly_in_time():
    curve = curve_of(10.0, (SECONDS, SECONDS), (SECONDS, SECONDS), (SECONDS, SECONDS))
    assert len(curve) == POINTS
    assert [point.at_s for point in curve] == pytest.approx(np.linspace(0.0, 10.0, POINTS))


def test_between_the_times_that_were_worked_out_it_runs_straight():
    at_s, course_c = np.array([0.0, 10.0]), np.array([20.0, 120.0])
    curve = curve_of(5.0, (at_s, course_c), (at_s, course_c), (at_s, course_c))
    assert curve[-1].likely_c == pytest.approx(70.0)


def test_courses_that_cross_still_have_the_cooler_one_as_their_lower_end():
    rising, falling, level = SECONDS, 20.0 - SECONDS, np.full_like(SECONDS, 10.0)
    for point in curve_of(20.0, (SECONDS, rising), (SECONDS, level), (SECONDS, falling)):
        assert point.low_c <= point.likely_c == 10.0 <= point.high_c
