"""Units of measure: mm, °C, kPa and g/m² inside, whatever a file or a screen speaks outside.

The factors are exact by NIST SP 811, appendix B, or follow from exact ones there.
"""

MM_PER_INCH = 25.4
FAHRENHEIT_AT_FREEZING = 32.0
FAHRENHEIT_PER_KELVIN = 1.8
KPA_PER_PSI = 0.45359237 * 9.80665 / (0.0254**2) / 1000
KPA_PER_BAR = 100.0
G_PER_M2_IN_OUNCE_PER_YARD2 = 28.349523125 / 0.9144**2


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


def fahrenheit_difference_to_kelvin(difference_f: float) -> float:
    """A difference of two temperatures in K, which has no offset: 18 °F apart is 10 K apart.

    >>> fahrenheit_difference_to_kelvin(18)
    10.0
    """
    return difference_f / FAHRENHEIT_PER_KELVIN


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


def mm_to_inches(length_mm: float) -> float:
    """A length in inches.

    >>> mm_to_inches(508)
    20.0
    """
    return length_mm / MM_PER_INCH


def psi_to_kpa(pressure_psi: float) -> float:
    """A pressure (pound-force per square inch) in kPa."""
    return pressure_psi * KPA_PER_PSI


def bar_to_kpa(pressure_bar: float) -> float:
    """A pressure in kPa."""
    return pressure_bar * KPA_PER_BAR


def ounces_per_yard2_to_grams_per_m2(weight_oz_per_yd2: float) -> float:
    """A fabric's weight (avoirdupois ounces per square yard) in g/m²."""
    return weight_oz_per_yd2 * G_PER_M2_IN_OUNCE_PER_YARD2
