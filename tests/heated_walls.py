"""Walls on which published solutions are checked: 1 mm of a plain material, whose time scale is 10 s."""

from typing import Any

import numpy as np

from models.heat.physics.conduction import INSULATED, Face, History, Layer, conduct

LENGTH_M = 1e-3
CONDUCTIVITY = 0.1
HEAT = 1e6
SCALE_S = LENGTH_M**2 * HEAT / CONDUCTIVITY
"""Seconds to a Fourier number of 1."""
FINE = 8


def wall(start_c: float = 1.0) -> Layer:
    return Layer("wall", LENGTH_M, CONDUCTIVITY, HEAT, start_c)


def convected(biot: float, fourier: float, **how: Any) -> History:
    """A wall at 1 whose upper face is cooled by a fluid at 0; insulated below, like half of a wall."""
    film = Face(0.0, LENGTH_M / CONDUCTIVITY / biot)
    return conduct([wall()], film, INSULATED, fourier * SCALE_S, **{"finer": FINE, **how})


def at_fourier(history: History, course: np.ndarray, fourier: float) -> float:
    return float(np.interp(fourier * SCALE_S, history.times_s, course))
