"""Sizes in millimetres of the real screen, the type scale, and the fonts. Kivy must be configured before."""

from collections.abc import Sequence

from kivy.core.text import LabelBase
from kivy.metrics import Metrics, mm

from printables.fonts import font_path

FACE = "B612"

TARGET_MM = 15.0
"""The least side of anything to tap: one hand wears a heat glove."""
PRIMARY_MM = 20.0
"""The least height of the one primary action."""
DIGITS_MM = 20.0
"""The least height of the countdown's digits, to be read from 3 m."""

GAP_MM = 1.8
PADDING_MM = 2.6
RULE_MM = 0.45
BAR_MM = 0.8
"""The bar that shows where a long list is scrolled to."""
BAR_GAP_MM = BAR_MM + 0.8
"""What stands in a long list ends so far before its edge, where the bar is."""
FOCUS_MM = 1.2

SMALL_MM = 3.1
TIGHT_MM = 3.5
BODY_MM = 4.0
STRONG_MM = 4.6
HEADING_MM = 6.0
VALUE_MM = 6.8
NAME_MM = 8.2
"""Whose garment it is: its capitals are 6 mm high."""
LEAST_NAME_MM = 6.0
"""A name that takes several lines."""

DIGIT_HEIGHT = 0.758
"""Height of a digit of B612 over its font size, measured from the font's own outlines."""


def px(length_mm: float) -> float:
    """Pixels of a length on this screen, whole ones, so that ruled lines stay sharp."""
    return float(max(1, round(mm(length_mm))))


def rule_half() -> float:
    """Half the breadth of a ruled line, as Kivy's Line takes it; at 1 and below it draws single pixels."""
    return max(1.01, px(RULE_MM) / 2)


def inner_edge(pos: Sequence[float], size: Sequence[float]) -> tuple[float, float, float, float]:
    """Where a ruled line runs whose outer side is a box's own edge: x, y, width, height."""
    half = px(RULE_MM) / 2
    left, bottom = round(pos[0]) + half, round(pos[1]) + half
    return (left, bottom, round(size[0]) - 2 * half, round(size[1]) - 2 * half)


def to_mm(pixels: float) -> float:
    return pixels * 25.4 / Metrics.dpi


# Whoever draws words imports the theme, so the face is known before the first of them.
LabelBase.register(FACE, str(font_path("B612-Regular")), fn_bold=str(font_path("B612-Bold")))
