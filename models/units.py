"""Units at the edge: files and screens may speak inches and Fahrenheit, inside it is mm and °C.

Factors: NIST Special Publication 811 (2008), appendix B; those of the inch and the degree are exact.
"""

MM_PER_INCH = 25.4
FAHRENHEIT_DEGREES_PER_KELVIN = 1.8


def fahrenheit_to_celsius(temperature_f: float) -> float:
    """A temperature on the Celsius scale.

    >>> fahrenheit_to_celsius(302)
    150.0
    """
    return (temperature_f - 32) * 5 / 9


def celsius_to_fahrenheit(temperature_c: float) -> float:
    """A temperature on the Fahrenheit scale.

    >>> celsius_to_fahrenheit(150)
    302.0
    """
    return temperature_c * 9 / 5 + 32


def inch_to_mm(length_in: float) -> float:
    """A length in mm.

    >>> inch_to_mm(16)
    406.4
    """
    return length_in * MM_PER_INCH


def per_fahrenheit_to_per_kelvin(rate: float) -> float:
    """Something for each degree of the Fahrenheit scale, for each degree of the Celsius scale instead.

    A Celsius degree is the larger step: what takes 10 s for a Fahrenheit degree takes 18 s for it.

    >>> per_fahrenheit_to_per_kelvin(10)
    18.0
    """
    return rate * FAHRENHEIT_DEGREES_PER_KELVIN
