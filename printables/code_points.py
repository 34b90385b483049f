"""The stand-in for a character that no font has: its code point, in two rows of digits, in a small frame.

A person can look it up, and two names that differ still look different.
"""

from models.geometry import Box
from printables.placed import Lettering, PlacedRun

FONT = "B612Mono-Regular"
SIZE_EM = 0.5
DIGIT_EM = 0.65 * SIZE_EM  # a digit of that font is 0.65 of its size wide
GAP_EM = 0.08  # outside the frame, and again inside
TOP_EM = 0.87  # of the frame, above the baseline
HEIGHT_EM = 1.0
ROW_BASELINES = (0.46, 0.92)  # of the frame's height


def code_point_rows(character: str) -> tuple[str, str]:
    """The code point as two rows of hexadecimal digits.

    >>> code_point_rows("山"), code_point_rows("😀")
    (('5C', '71'), ('01F', '600'))
    """
    code_point = ord(character)
    digits = f"{code_point:04X}" if code_point <= 0xFFFF else f"{code_point:06X}"
    middle = len(digits) // 2
    return digits[:middle], digits[middle:]


def code_point_advance_em(character: str) -> float:
    """How far the pen moves for the stand-in, in ems."""
    return DIGIT_EM * len(code_point_rows(character)[0]) + 4 * GAP_EM


def code_point_lettering(character: str, x_mm: float, baseline_mm: float, em_mm: float) -> Lettering:
    """The stand-in at a text of this size, with the pen at `x_mm` on the baseline."""
    gap_mm = GAP_EM * em_mm
    width_mm = code_point_advance_em(character) * em_mm - 2 * gap_mm
    frame = Box(x_mm + gap_mm, baseline_mm - TOP_EM * em_mm, width_mm, HEIGHT_EM * em_mm)
    runs = tuple(
        PlacedRun(FONT, digits, frame.x + gap_mm, frame.y + share * frame.height, SIZE_EM * em_mm)
        for digits, share in zip(code_point_rows(character), ROW_BASELINES, strict=True)
    )
    return Lettering(runs, (frame,))
