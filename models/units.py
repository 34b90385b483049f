"""Units of measure: mm and °C inside, whatever a file or a screen speaks outside.

The factors are those of NIST Special Publication 811 (2008), appendix B, all exact.
"""

MM_PER_INCH = 25.4
FAHRENHEIT_AT_FREEZING = 32.0
FAHRENHEIT_PER_KELVIN = 1.8


def fahrenheit_to_celsius(temperature_f: float) -> float:
    """A temperature in °C.

    >>> fahrenheit_to_celsius(212)
    100.0
    """
    return (temperature_f - FAHRENHEIT_AT_FREEZING) / FAHRENHEIT_PER_KELVIN


def celsius_to_fahrenheit(temperature_c: float) -> float:
    """A temperature in °F.

    >>> celsius_to_fahrenheit(150)
    302.0
    """
    return temperature_c * FAHRENHEIT_PER_KELVIN + FAHRENHEIT_AT_FREEZING


def in_both_degrees(temperature_c: float) -> str:
    """A temperature as people are told it, whichever of the two their press shows.

    >>> in_both_degrees(150)
    '150 °C (302 °F)'
    """
    return f"{temperature_c:.0f} °C ({celsius_to_fahrenheit(temperature_c):.0f} °F)"


def per_fahrenheit_to_per_kelvin(rate_per_f: float) -> float:
    """Something for each °F, such as seconds of heating, as the same for each K.

    >>> per_fahrenheit_to_per_kelvin(5)
    9.0
    """
    return rate_per_f * FAHRENHEIT_PER_KELVIN


def inches_to_mm(length_in: float) -> float:
    """A length in mm.

    >>> inches_to_mm(16)
    406.4
    """
    return length_in * MM_PER_INCH
