"""Sheets that cool as one: A. Bejan and A. D. Kraus, Heat Transfer Handbook (2003), and Incropera, chapter 5.

Lumped capacity with a constant coefficient (Incropera 5.6, Example 5.1), with one that falls as a power of
the temperature (Handbook 3.286), with radiation alone (Handbook 3.283, Incropera 5.18), and with both, for
which the values are those of scipy.integrate.solve_ivp.
"""

import math

import numpy as np
import pytest

from models.heat.physics.conduction import Layer, grid_of
from models.heat.physics.convection import radiated_w_per_m2
from models.heat.physics.cooling import Cooling, HotBody, Loss, cool_each

CAPACITY = 0.2 * 1340.0
"""200 g/m² at 1340 J/kgK."""
CLOSE = 1e-3
THIN_M = 1e-4
LEADS_WELL = 1e4


def cool_down(start_c: float, lowest_c: float, capacity: float, loss: Loss) -> Cooling:
    """Of a sheet that leads heat so well that it is even; half of the loss is through each face."""

    def of_one_face(face_c):
        return loss(face_c) / 2

    sheet = grid_of([Layer("sheet", THIN_M, LEADS_WELL, capacity / THIN_M, start_c)])
    (course,) = cool_each([HotBody(sheet, of_one_face, of_one_face)], lowest_c, finer=4)
    return course


def test_a_constant_coefficient_cools_exponentially():
    course = cool_down(150.0, 45.0, CAPACITY, lambda cloth_c: 2 * 15.0 * (cloth_c - 22.0))
    assert course.seconds_to(45.0) == pytest.approx(15.3344, rel=CLOSE)


def test_the_worked_example_of_a_thermocouple():
    """A bead of 0.706 mm in gas at 200 °C: 5.2 s to come within 1 K, here from the other side."""
    capacity = 8500 * 400 * 0.706e-3 / 6
    course = cool_down(375.0, 201.0, capacity, lambda bead_c: 400.0 * (bead_c - 200.0))
    assert course.seconds_to(201.0) == pytest.approx(5.16565, rel=5e-3)


@pytest.mark.parametrize(("seconds", "left"), [(10, 0.57324), (20, 0.35174), (40, 0.153732)])
def test_a_coefficient_that_falls_with_the_quarter_power(seconds, left):
    def loss(cloth_c):
        return 2 * 8.0 * (np.maximum(cloth_c, 0.0) / 100.0) ** 0.25 * cloth_c

    course = cool_down(100.0, 10.0, CAPACITY, loss)
    assert course.seconds_to(100.0 * left) == pytest.approx(seconds, rel=CLOSE)


def test_radiation_alone():
    """From 450 to 350 K among walls at 300 K."""
    course = cool_down(
        450 - 273.15, 350 - 273.15, CAPACITY, lambda c: 2 * radiated_w_per_m2(c, 300 - 273.15, 0.9)
    )
    assert course.seconds_to(350 - 273.15) == pytest.approx(17.3654, rel=CLOSE)


def test_convection_and_radiation_together():
    def loss(cloth_c):
        return 2 * (1.3 * np.maximum(cloth_c - 22.0, 0.0) ** 1.25 + radiated_w_per_m2(cloth_c, 22.0, 0.9))

    course = cool_down(150.0, 45.0, CAPACITY, loss)
    at_c = np.interp([5.0, 10.0, 20.0], course.times_s, course.hottest_c)
    assert at_c == pytest.approx([101.561, 74.8872, 47.9425], rel=CLOSE)
    assert course.seconds_to(45.0) == pytest.approx(21.8275, rel=CLOSE)


def test_the_time_constant_is_capacity_over_loss():
    course = cool_down(100.0, 100.0 / math.e, CAPACITY, lambda cloth_c: 30.0 * cloth_c)
    assert course.seconds_to(100.0 / math.e) == pytest.approx(8.93333, rel=CLOSE)
