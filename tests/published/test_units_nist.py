"""Unit conversions against NIST Special Publication 811 (2008 edition), Guide for the Use of the SI.

Appendix B.8: t/°C = (t/°F - 32)/1.8 and 1 in = 25.4 mm, both exact. The temperatures are fixed points of the
two scales and settings that presses are often given; their figures were made with the general-purpose
library pint.
"""

import pytest

from models.units import (
    celsius_to_fahrenheit,
    fahrenheit_to_celsius,
    inches_to_mm,
    per_fahrenheit_to_per_kelvin,
)

FAHRENHEIT_AND_CELSIUS = [
    (-40, -40),
    (32, 0),
    (212, 100),
    (266, 130),
    (284, 140),
    (300, 148.888_889),
    (302, 150),
    (320, 160),
    (356, 180),
    (385, 196.111_111),
    (392, 200),
]


@pytest.mark.parametrize(("fahrenheit", "celsius"), FAHRENHEIT_AND_CELSIUS)
def test_fahrenheit_to_celsius_by_nist_sp_811(fahrenheit, celsius):
    assert fahrenheit_to_celsius(fahrenheit) == pytest.approx(celsius, abs=1e-6)


@pytest.mark.parametrize(("fahrenheit", "celsius"), FAHRENHEIT_AND_CELSIUS)
def test_celsius_to_fahrenheit_by_nist_sp_811(fahrenheit, celsius):
    assert celsius_to_fahrenheit(celsius) == pytest.approx(fahrenheit, abs=2e-6)


def test_a_difference_of_18_fahrenheit_is_one_of_10_kelvin():
    """Taken by the ratio: 1 s for each °F over 18 °F is 18 s, as 1.8 s for each K over 10 K is."""
    assert per_fahrenheit_to_per_kelvin(1) * 10 == pytest.approx(18, rel=1e-12)


@pytest.mark.parametrize(("inches", "mm"), [(1, 25.4), (16, 406.4), (20, 508), (0.005, 0.127)])
def test_inches_by_nist_sp_811(inches, mm):
    assert inches_to_mm(inches) == pytest.approx(mm, rel=1e-12)
