"""Free convection against the open library ht (1.2, MIT licence), which carries the published correlations.

Churchill and Chu for upright plates and McAdams for level ones; VDI's and Rohsenow's for level plates show
how far published correlations lie apart. Air at 1 atm: Incropera, Table A.4, from memory.
"""

import numpy as np
import pytest
from ht.conv_free_immersed import (
    Nu_horizontal_plate_McAdams,
    Nu_horizontal_plate_Rohsenow,
    Nu_horizontal_plate_VDI,
    Nu_vertical_plate_Churchill,
)

from models.heat.physics.convection import (
    SPREAD,
    level_w_per_m2k,
    nusselt_level,
    nusselt_upright,
    upright_w_per_m2k,
)

PRANDTL = 0.70


@pytest.mark.parametrize("rayleigh", [1e4, 1e6, 1e7, 1e8, 1e10])
def test_an_upright_plate_is_churchills_and_chus(rayleigh):
    ours = nusselt_upright(np.array([rayleigh]), np.array([PRANDTL]))[0]
    assert ours == pytest.approx(Nu_vertical_plate_Churchill(PRANDTL, rayleigh / PRANDTL), rel=1e-6)


def test_bergmans_worked_example_9_2_prints_147():
    ours = nusselt_upright(np.array([0.69 * 2.63e9]), np.array([0.69]))[0]
    assert ours == pytest.approx(147.162, rel=1e-5)


@pytest.mark.parametrize("rayleigh", [1e4, 1e6, 9.9e6, 1.1e7, 1e8])
def test_a_level_plate_is_mcadams(rayleigh):
    theirs = Nu_horizontal_plate_McAdams(PRANDTL, rayleigh / PRANDTL, buoyancy=True)
    assert nusselt_level(np.array([rayleigh]))[0] == pytest.approx(theirs, rel=1e-6)


@pytest.mark.parametrize("other", [Nu_horizontal_plate_VDI, Nu_horizontal_plate_Rohsenow])
def test_other_correlations_for_level_plates_stand_within_the_spread_that_the_band_carries(other):
    """At a Rayleigh number of a cloth under a platen; what they differ by is what SPREAD is for."""
    theirs = other(PRANDTL, 1e6 / PRANDTL, buoyancy=True) / nusselt_level(np.array([1e6]))[0]
    assert SPREAD.low <= theirs <= SPREAD.high


def test_a_square_of_hot_cloth_in_still_air():
    """0.3 m square, 150 °C in 20 °C: 8.5 W/m²K lying and 6.9 hanging, by ht with the air's values rounded."""
    cloth_c = np.array([150.0])
    assert level_w_per_m2k(cloth_c, 20.0, 0.075)[0] == pytest.approx(8.496, rel=0.02)
    assert upright_w_per_m2k(cloth_c, 20.0, 0.3)[0] == pytest.approx(6.905, rel=0.02)
