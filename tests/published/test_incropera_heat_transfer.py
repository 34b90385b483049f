"""Transient and steady heat against F. P. Incropera et al., Fundamentals of Heat and Mass Transfer.

Table 5.1 and Appendix B.3 (plane wall: first root and coefficient for each Biot number, four roots for Bi 1,
the series in the middle of a wall that cools from both faces), section 5.2 (Biot number of an even body),
section 3.1 (layers in series), equations 5.57 to 5.63 (half space), 5.66 (two bodies that touch), the worked
example of a pipe wall, Table A.4 (air) and section 1.2 (radiation). The table's numbers are recomputed to six
digits; the book prints four, from memory.
"""

import math

import numpy as np
import pytest
from scipy.linalg import eigh_tridiagonal

from models.heat.physics.conduction import INSULATED, Face, Layer, conduct, grid_of
from models.heat.physics.convection import radiated_w_per_m2
from models.heat.physics.cooling import Cooling, HotBody, cool_each
from tests.heated_walls import CONDUCTIVITY, FINE, HEAT, LENGTH_M, SCALE_S, at_fourier, convected

FIRST_ROOTS = [  # Bi, first root, its coefficient
    (0.01, 0.0998336, 1.00166),
    (0.05, 0.22176, 1.00819),
    (0.1, 0.311053, 1.01609),
    (0.3, 0.521791, 1.04505),
    (0.5, 0.653271, 1.07013),
    (1.0, 0.860334, 1.11913),
    (2.0, 1.07687, 1.17846),
    (5.0, 1.31384, 1.24025),
    (10.0, 1.42887, 1.26196),
    (50.0, 1.54001, 1.27265),
    (100.0, 1.55525, 1.27309),
]
FOUR_ROOTS_AT_BIOT_1 = [0.860334, 3.42562, 6.4373, 9.52933]
TOUCHING = [  # k, rho, c and start of the one and the other, and where they meet
    ((237.0, 2702.0, 903.0, 180.0), (0.07, 400.0, 1300.0, 20.0), 178.741),
    ((0.23, 1150.0, 1300.0, 60.0), (0.07, 400.0, 1300.0, 20.0), 50.1804),
    ((60.5, 7854.0, 434.0, 70.0), (0.37, 1000.0, 3770.0, 33.0), 67.1882),
    ((0.23, 1150.0, 1300.0, 70.0), (0.37, 1000.0, 3770.0, 33.0), 45.2755),
    ((0.07, 400.0, 1300.0, 70.0), (0.37, 1000.0, 3770.0, 33.0), 38.1457),
]
IN_SERIES = [  # name, thickness, conductivity, lower face between 160 and 40 °C
    ("cover sheet", 0.13e-3, 0.25, 158.565),
    ("carrier", 0.10e-3, 0.20, 157.184),
    ("adhesive", 0.10e-3, 0.19, 155.732),
    ("cotton", 0.50e-3, 0.07, 136.014),
    ("silicone", 8.00e-3, 0.23, 40.0),
]
COOLED_MIDDLES = [  # Bi, Fo, what is left in the middle
    (0.1, 1.0, 0.92239),
    (1.0, 0.1, 0.99311),
    (1.0, 0.2, 0.95064),
    (1.0, 0.5, 0.77253),
    (1.0, 1.0, 0.53386),
    (5.0, 0.4, 0.62128),
    (10.0, 0.2, 0.82925),
]
RADIATION = [  # emissivity, surface and room [°C], W/m²
    (0.85, 126.85, 31.85, 816.782),
    (0.9, 150.0, 20.0, 1259.29),
    (0.95, 180.0, 25.0, 1845.78),
]


def cooled_from_both_faces(biot: float) -> Cooling:
    """A whole wall from 100 °C in air at 0: its half is the wall of the table, its middle is hottest."""
    both_halves = Layer("wall", 2 * LENGTH_M, CONDUCTIVITY, HEAT, 100.0)

    def loss(face_c):
        return biot * CONDUCTIVITY / LENGTH_M * face_c

    (course,) = cool_each([HotBody(grid_of([both_halves], 6 * FINE), loss, loss)], 10.0, finer=FINE)
    return course


@pytest.mark.parametrize(("biot", "fourier", "left"), COOLED_MIDDLES)
def test_the_middle_of_a_wall_that_cools_from_both_faces_follows_the_series(biot, fourier, left):
    """At Bi 10 the faces are down to 0.12 while the middle is still at 0.83: no mean would tell."""
    course = cooled_from_both_faces(biot)
    assert np.interp(fourier * SCALE_S, course.times_s, course.hottest_c) == pytest.approx(
        100 * left, rel=2e-3
    )


def test_up_to_a_biot_number_of_a_tenth_a_wall_cools_as_one_even_body_and_above_it_later():
    """Section 5.2: below 0.1 the even body's exponential errs by less than 5 %."""

    def late(biot):
        even_s = math.log(2) * SCALE_S / biot
        return cooled_from_both_faces(biot).seconds_to(50.0) / even_s - 1

    assert 0 < late(0.1) < 0.06
    assert late(1.0) > 0.3


@pytest.mark.parametrize(("biot", "root", "coefficient"), FIRST_ROOTS)
def test_a_wall_cools_by_the_first_root_of_its_biot_number(biot, root, coefficient):
    """From Fo 1 on only the first term is left: its root is the slope of the logarithm."""
    history = convected(biot, 2.0)
    middle = history.lower_face_c(0)
    early, late = (at_fourier(history, np.log(middle), fourier) for fourier in (1.0, 2.0))
    assert math.sqrt(early - late) == pytest.approx(root, rel=1e-3)
    assert math.exp(2 * early - late) == pytest.approx(coefficient, rel=1e-3)


def test_the_first_four_roots_stand_in_the_cells_of_a_wall():
    history = convected(1.0, 0.01)
    capacity, between = history.grid.capacity_j_per_m2k, history.grid.between
    beside = -between[1:-1] / np.sqrt(capacity[:-1] * capacity[1:])
    rates = eigh_tridiagonal((between[:-1] + between[1:]) / capacity, beside, eigvals_only=True)
    assert np.sqrt(rates[:4] * SCALE_S) == pytest.approx(FOUR_ROOTS_AT_BIOT_1, rel=3e-3)


@pytest.mark.parametrize(("one", "other", "meeting"), TOUCHING)
def test_where_two_bodies_touch_their_effusivities_decide(one, other, meeting):
    """Half a second after they touch, and deeper than heat gets in that time."""
    bodies = [_deep_body(*one), _deep_body(*other)]
    history = conduct(bodies, INSULATED, INSULATED, 0.5, finer=FINE)
    assert history.upper_face_c(1)[-1] == pytest.approx(meeting, abs=0.005 * (one[3] - other[3]))


def test_layers_in_series_settle_at_the_temperatures_of_their_resistances():
    layers = [Layer(name, thickness, k, 1e5, 40.0) for name, thickness, k, _ in IN_SERIES]
    history = conduct(layers, Face(160.0), Face(40.0), 600.0)
    for place, (name, _, _, lower_face_c) in enumerate(IN_SERIES):
        assert history.lower_face_c(place)[-1] == pytest.approx(lower_face_c, rel=1e-4), name
    assert history.flux_into(0)[-1] == pytest.approx(2760.41, rel=1e-4)


def test_the_worked_example_of_a_pipe_wall():
    """The book prints 42.9 and 45.2 °C from its rounded table; exactly they are 43.02 and 45.36."""
    wall = Layer("pipe wall", 0.04, 63.9, 63.9 / 1.88e-5, -20.0)
    history = conduct([wall], Face(60.0, 1 / 500), INSULATED, 480.0, finer=4)
    assert history.lower_face_c(0)[-1] == pytest.approx(43.0175, abs=0.05)
    assert history.upper_face_c(0)[-1] == pytest.approx(45.3635, abs=0.05)


def test_a_steady_flux_into_a_half_space():
    """5000 W/m² for 10 s: held behind a resistance so large that it stays the same."""
    layer = Layer("half space", 0.02, 0.2, 2e6, 0.0)
    source = Face(5000.0 * 1e4, 1e4)
    top = Layer("first millimetre", 0.001, 0.2, 2e6, 0.0)
    history = conduct([top, layer], source, INSULATED, 10.0, finer=FINE)
    assert history.upper_face_c(0)[-1] == pytest.approx(28.2095, abs=0.03)
    assert history.lower_face_c(0)[-1] == pytest.approx(9.98206, abs=0.03)


def test_how_deep_the_frost_gets_in_sixty_days():
    """Soil at 20 °C, its face held at -15: 0 °C stands 0.677 m deep."""
    upper = Layer("soil above", 0.676962, 0.52, 0.52 / 1.38e-7, 20.0)
    lower = Layer("soil below", 8.0, 0.52, 0.52 / 1.38e-7, 20.0)
    history = conduct([upper, lower], Face(-15.0), INSULATED, 5_184_000.0, finer=FINE)
    assert history.lower_face_c(0)[-1] == pytest.approx(0.0, abs=0.05)


def test_the_flux_into_a_half_space_whose_face_is_held():
    soil = Layer("soil", 2.0, 0.52, 0.52 / 1.38e-7, 20.0)
    history = conduct([soil], Face(-15.0), INSULATED, 3600.0, finer=FINE)
    assert -history.flux_into(0)[-1] == pytest.approx(460.687, rel=2e-3)


@pytest.mark.parametrize(("emissivity", "surface_c", "room_c", "flux"), RADIATION)
def test_what_a_face_radiates_to_the_room(emissivity, surface_c, room_c, flux):
    assert radiated_w_per_m2(np.array([surface_c]), room_c, emissivity)[0] == pytest.approx(flux, rel=1e-5)


def _deep_body(conductivity: float, density: float, heat: float, start_c: float) -> Layer:
    """Ten times as deep as heat gets in half a second."""
    depth_m = 10 * math.sqrt(conductivity / density / heat * 0.5)
    return Layer("body", depth_m, conductivity, density * heat, start_c)
