"""Units at the edges of the project."""

import pytest

from models.units import (
    celsius_to_fahrenheit,
    fahrenheit_to_celsius,
    inches_to_mm,
    per_fahrenheit_to_per_kelvin,
)


@pytest.mark.parametrize("temperature_c", [-40, 0, 36.6, 149, 150, 220])
def test_a_temperature_comes_back_from_fahrenheit_as_it_went(temperature_c):
    there_and_back = fahrenheit_to_celsius(celsius_to_fahrenheit(temperature_c))
    assert there_and_back == pytest.approx(temperature_c, abs=1e-9)


def test_a_press_set_to_300_fahrenheit_is_just_below_149_celsius():
    assert fahrenheit_to_celsius(300) == pytest.approx(148.8889, abs=5e-5)


def test_seconds_for_each_degree_fahrenheit_are_more_for_each_kelvin_and_have_no_offset():
    assert per_fahrenheit_to_per_kelvin(0) == 0
    assert per_fahrenheit_to_per_kelvin(10) == 18


def test_heating_takes_as_long_counted_in_either_unit():
    seconds_per_f = 3.5
    in_fahrenheit = (302 - 212) * seconds_per_f
    in_kelvin = (150 - 100) * per_fahrenheit_to_per_kelvin(seconds_per_f)
    assert in_kelvin == pytest.approx(in_fahrenheit, rel=1e-12)


def test_a_platen_of_16_by_20_inches_in_mm():
    assert (inches_to_mm(16), inches_to_mm(20)) == (406.4, 508)
