"""Slabs and half spaces against H. S. Carslaw and J. C. Jaeger, Conduction of Heat in Solids, 2nd edition.

The numbers are their series and error functions, summed anew to six digits: section 3.3 (both faces held),
3.4 (one face held at 1, the other at 0), 3.11 (convecting faces), 2.5 and 2.7 (half space), 12.8 (two layers,
by 400 roots of its eigenvalue equation).
"""

import numpy as np
import pytest

from models.heat.physics.conduction import INSULATED, Face, Layer, conduct
from tests.heated_walls import CONDUCTIVITY, FINE, HEAT, LENGTH_M, SCALE_S, at_fourier, convected, wall

BOTH_FACES_HELD = [(0.05, 0.996869), (0.1, 0.949305), (0.2, 0.772312), (0.5, 0.370777), (1.0, 0.107977)]
FOURIER_TO_MIDDLE = [(0.5, 0.378748), (0.1, 1.0311), (0.05, 1.31203), (0.01, 1.96431)]
HOT_AND_COLD_FACE = [
    (0.05, 0.25, 0.429195),
    (0.05, 0.5, 0.113844),
    (0.1, 0.25, 0.576059),
    (0.1, 0.5, 0.262756),
    (0.1, 0.75, 0.0883439),
    (0.2, 0.5, 0.411566),
    (0.2, 0.75, 0.187587),
]
CONVECTING = [  # Bi, Fo, middle, surface, share of the heat that has left
    (1, 0.1, 0.993108, 0.723577, 0.0804033),
    (1, 0.2, 0.950642, 0.643391, 0.148405),
    (1, 0.5, 0.772526, 0.504522, 0.318895),
    (1, 1.0, 0.533859, 0.348177, 0.529603),
    (0.1, 1.0, 0.922389, 0.878126, 0.0924129),
    (10, 0.2, 0.829255, 0.122482, 0.416738),
    (5, 0.4, 0.621275, 0.158344, 0.542178),
]
HALF_SPACE_CONVECTING = [  # x / 2 sqrt(a t), h sqrt(a t) / k, share of the way to the fluid
    (0.0, 0.5, 0.38431),
    (0.0, 1.0, 0.572416),
    (0.5, 1.0, 0.229049),
    (0.25, 0.5, 0.24745),
    (1.0, 2.0, 0.0914484),
]
TWO_LAYERS = [  # seconds, between the layers, at the insulated back
    (0.2, 0.549602, 0.00686235),
    (0.5, 0.790856, 0.157653),
    (1.0, 0.88843, 0.47196),
    (2.0, 0.959182, 0.804645),
    (5.0, 0.997946, 0.990168),
]
EXACT = 5e-4
"""Of the whole step in temperature, with the cells and steps of these checks."""


@pytest.mark.parametrize(("fourier", "middle"), BOTH_FACES_HELD)
def test_the_middle_of_a_slab_whose_faces_are_held(fourier, middle):
    history = conduct([wall()], Face(0.0), INSULATED, fourier * SCALE_S, finer=FINE)
    assert history.lower_face_c(0)[-1] == pytest.approx(middle, abs=EXACT)


@pytest.mark.parametrize(("left", "fourier"), FOURIER_TO_MIDDLE)
def test_the_time_until_a_slab_is_heated_through(left, fourier):
    history = conduct([wall()], Face(0.0), INSULATED, 2.5 * SCALE_S, finer=FINE)
    until_s = np.interp(-left, -history.lower_face_c(0), history.times_s)
    assert until_s / SCALE_S == pytest.approx(fourier, rel=2e-3)


@pytest.mark.parametrize(("fourier", "depth", "share"), HOT_AND_COLD_FACE)
def test_a_slab_between_a_hot_and_a_cold_face(fourier, depth, share):
    upper = Layer("upper", LENGTH_M * depth, CONDUCTIVITY, HEAT, 0.0)
    lower = Layer("lower", LENGTH_M * (1 - depth), CONDUCTIVITY, HEAT, 0.0)
    history = conduct([upper, lower], Face(1.0), Face(0.0), fourier * SCALE_S, finer=FINE)
    assert history.lower_face_c(0)[-1] == pytest.approx(share, abs=EXACT)


@pytest.mark.parametrize(("biot", "fourier", "middle", "surface", "left"), CONVECTING)
def test_a_slab_with_convecting_faces(biot, fourier, middle, surface, left):
    history = convected(biot, fourier)
    assert history.lower_face_c(0)[-1] == pytest.approx(middle, abs=EXACT)
    assert history.upper_face_c(0)[-1] == pytest.approx(surface, abs=EXACT)
    assert -history.stored_j_per_m2()[-1] / (HEAT * LENGTH_M) == pytest.approx(left, abs=EXACT)


def test_early_on_the_first_term_of_the_series_would_promise_more_heat_than_there_is():
    """At a Fourier number of 0.1 the first term alone says 1.039; the wall never exceeds its start."""
    history = convected(1, 0.2)
    assert history.cells_c.max() <= 1 + 1e-9
    assert at_fourier(history, history.lower_face_c(0), 0.1) == pytest.approx(0.993108, abs=EXACT)


@pytest.mark.parametrize(("depth", "film", "share"), HALF_SPACE_CONVECTING)
def test_a_half_space_warmed_by_a_fluid(depth, film, share):
    seconds = 1.0
    reach_m = np.sqrt(CONDUCTIVITY / HEAT * seconds)
    fluid = Face(1.0, reach_m / CONDUCTIVITY / film)
    above = [Layer("above", 2 * depth * reach_m, CONDUCTIVITY, HEAT, 0.0)] if depth else []
    below = [Layer("below", 4 * LENGTH_M, CONDUCTIVITY, HEAT, 0.0)]
    history = conduct([*above, *below], fluid, INSULATED, seconds, finer=FINE)
    assert history.upper_face_c(len(above))[-1] == pytest.approx(share, abs=EXACT)


@pytest.mark.parametrize(("seconds", "between", "back"), TWO_LAYERS)
def test_two_layers_whose_upper_face_is_stepped(seconds, between, back):
    film = Layer("film", 0.2e-3, 0.20, 1.6e6, 0.0)
    cloth = Layer("cloth", 0.5e-3, 0.07, 5.2e5, 0.0)
    history = conduct([film, cloth], Face(1.0), INSULATED, seconds, finer=FINE)
    assert history.lower_face_c(0)[-1] == pytest.approx(between, abs=EXACT)
    assert history.lower_face_c(1)[-1] == pytest.approx(back, abs=EXACT)
