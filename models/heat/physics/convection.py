"""Free convection in still air beside a warm cloth, and what it radiates.

Sources: S. W. Churchill and H. H. S. Chu, Int. J. Heat Mass Transfer 18 (1975) 1323-1329, upright plates, all
Rayleigh numbers; W. H. McAdams, Heat Transmission (1954), level plates, warm face up: 0.54 Ra^1/4 to 1e7 and
0.15 Ra^1/3 above, on the length area / perimeter; air at 1 atm: F. P. Incropera et al., Fundamentals of Heat
and Mass Transfer, Table A.4. Published correlations differ by about 20 %: SPREAD carries that.
"""

import numpy as np
from numpy.typing import NDArray

from models.ranges import Range

Array = NDArray[np.float64]

SPREAD = Range(0.8, 1.0, 1.2)
GRAVITY_M_PER_S2 = 9.81
KELVIN = 273.15
STEFAN_BOLTZMANN_W_PER_M2K4 = 5.670374e-8
TURBULENT_FROM = 1e7

AIR_K = (250.0, 300.0, 350.0, 400.0, 450.0)
AIR_VISCOSITY_M2_PER_S = (11.44e-6, 15.89e-6, 20.92e-6, 26.41e-6, 32.39e-6)
AIR_CONDUCTIVITY_W_PER_MK = (22.3e-3, 26.3e-3, 30.0e-3, 33.8e-3, 37.3e-3)
AIR_PRANDTL = (0.720, 0.707, 0.700, 0.690, 0.686)


def upright_w_per_m2k(surface_c: Array, room_c: float, height_m: float) -> Array:
    """Free convection from one face of a plate that hangs [W/m²K]."""
    conductivity, prandtl, rayleigh = _air(surface_c, room_c, height_m)
    return np.asarray(nusselt_upright(rayleigh, prandtl) * conductivity / height_m)


def level_w_per_m2k(surface_c: Array, room_c: float, length_m: float) -> Array:
    """Free convection from the upper face of a plate that lies [W/m²K]; `length_m` is area / perimeter."""
    conductivity, _, rayleigh = _air(surface_c, room_c, length_m)
    return np.asarray(nusselt_level(rayleigh) * conductivity / length_m)


def nusselt_upright(rayleigh: Array, prandtl: Array) -> Array:
    """Churchill and Chu's number for all Rayleigh numbers."""
    return np.asarray(
        (0.825 + 0.387 * rayleigh ** (1 / 6) / (1 + (0.492 / prandtl) ** (9 / 16)) ** (8 / 27)) ** 2
    )


def nusselt_level(rayleigh: Array) -> Array:
    """McAdams' number for a warm face that looks up."""
    return np.where(rayleigh <= TURBULENT_FROM, 0.54 * rayleigh**0.25, 0.15 * rayleigh ** (1 / 3))


def radiated_w_per_m2(surface_c: Array, room_c: float, emissivity: float) -> Array:
    """Net radiation of one face to a room all round it."""
    gap = (surface_c + KELVIN) ** 4 - (room_c + KELVIN) ** 4
    return np.asarray(emissivity * STEFAN_BOLTZMANN_W_PER_M2K4 * gap)


def _air(surface_c: Array, room_c: float, length_m: float) -> tuple[Array, Array, Array]:
    """Conductivity, Prandtl and Rayleigh number at the mean of both; no air rises along a cool surface."""
    film_k = (surface_c + room_c) / 2 + KELVIN
    viscosity = np.interp(film_k, AIR_K, AIR_VISCOSITY_M2_PER_S)
    prandtl = np.interp(film_k, AIR_K, AIR_PRANDTL)
    buoyancy = GRAVITY_M_PER_S2 / film_k * np.maximum(surface_c - room_c, 0.0) * length_m**3
    conductivity = np.interp(film_k, AIR_K, AIR_CONDUCTIVITY_W_PER_MK)
    return conductivity, prandtl, buoyancy * prandtl / viscosity**2
