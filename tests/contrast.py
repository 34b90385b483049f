"""Contrast of two colours as WCAG 2.2 defines it ("relative luminance" and "contrast ratio")."""

from floorapp.palette import Colour


def luminance(tint: Colour) -> float:
    """0 for black to 1 for white."""
    red, green, blue = (_linear(channel) for channel in tint[:3])
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(a: Colour, b: Colour) -> float:
    """1 for equal colours to 21 for black on white; the order does not matter."""
    darker, lighter = sorted((luminance(a), luminance(b)))
    return (lighter + 0.05) / (darker + 0.05)


def _linear(channel: float) -> float:
    return channel / 12.92 if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4
