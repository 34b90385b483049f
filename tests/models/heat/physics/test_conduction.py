"""The conduction itself: refining, the balance of heat, and what it refuses."""

import numpy as np
import pytest

from models.errors import CalculationError
from models.heat.physics.conduction import INSULATED, Face, Layer, conduct

PLATEN = Face(149.0)
PRESSED = (
    Layer("cover sheet", 0.13e-3, 0.25, 2.2e6, 22.0, 3e-4),
    Layer("foam", 0.42e-3, 0.09, 8.1e5, 22.0, 3e-4),
    Layer("adhesive", 0.08e-3, 0.20, 2.2e6, 22.0),
    Layer("cloth", 0.72e-3, 0.08, 4.3e5, 22.0, 3e-4),
    Layer("pad", 8e-3, 0.08, 3.9e5, 45.0, 3e-4),
)
ADHESIVE = 2
LOOKED_AT_S = np.array([0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 60.0])


def adhesive_c(finer: int) -> np.ndarray:
    history = conduct(PRESSED, PLATEN, INSULATED, 60.0, finer=finer)
    return np.interp(LOOKED_AT_S, history.times_s, history.lower_face_c(ADHESIVE))


def test_the_cells_and_steps_in_use_are_within_a_fifth_of_a_degree_of_the_refined_answer():
    assert np.abs(adhesive_c(1) - adhesive_c(8)).max() < 0.2


def test_each_halving_of_cells_and_steps_leaves_about_a_quarter_of_the_error():
    refined = adhesive_c(16)
    errors = [np.abs(adhesive_c(finer) - refined).max() for finer in (1, 2, 4)]
    assert 3 < errors[0] / errors[1] < 6
    assert 3 < errors[1] / errors[2] < 6


def test_what_runs_in_through_the_faces_is_what_the_layers_have_taken_up():
    table = Face(30.0, 0.1)
    history = conduct(PRESSED, PLATEN, table, 30.0, finer=4)
    gained = history.flux_into(0) - history.flux_into(history.cells_c.shape[1])
    assert np.trapezoid(gained, history.times_s) == pytest.approx(history.stored_j_per_m2()[-1], rel=2e-3)


def test_nothing_gets_hotter_than_the_platen_or_cooler_than_it_was():
    history = conduct(PRESSED, PLATEN, INSULATED, 60.0)
    assert history.cells_c.max() <= 149.0
    assert history.cells_c.min() >= 22.0 - 1e-6


def test_without_a_difference_in_temperature_nothing_changes():
    still = [Layer(layer.name, layer.thickness_m, 0.1, 1e6, 60.0, 1e-4) for layer in PRESSED]
    history = conduct(still, Face(60.0), Face(60.0), 10.0)
    assert np.allclose(history.cells_c, 60.0, atol=1e-9)


def test_a_contact_resistance_lets_the_temperature_jump():
    layers = [Layer("upper", 1e-3, 0.1, 1e6, 0.0), Layer("lower", 1e-3, 0.1, 1e6, 0.0, 0.01)]
    history = conduct(layers, Face(90.0), Face(0.0), 600.0)
    assert history.lower_face_c(0)[-1] == pytest.approx(60.0, abs=1e-3)
    assert history.upper_face_c(1)[-1] == pytest.approx(30.0, abs=1e-3)


def test_the_last_moment_is_the_one_asked_for():
    assert conduct(PRESSED, PLATEN, INSULATED, 7.3).times_s[-1] == pytest.approx(7.3, abs=1e-9)


@pytest.mark.parametrize(
    "layers", [[], [Layer("nothing", 0.0, 0.1, 1e6, 22.0)], [Layer("vacuum", 1e-3, 0.0, 1e6, 22.0)]]
)
def test_layers_that_cannot_be_are_refused(layers):
    with pytest.raises(CalculationError):
        conduct(layers, PLATEN, INSULATED, 10.0)


def test_no_time_is_refused():
    with pytest.raises(CalculationError, match="some time"):
        conduct(PRESSED, PLATEN, INSULATED, 0.0)
