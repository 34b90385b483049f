"""What the renderers draw of a text: runs of letters and thin frames, placed [mm]."""

from dataclasses import dataclass

from models.geometry import Box


@dataclass(frozen=True, slots=True)
class PlacedRun:
    """Characters of one font, left to right; the pen starts at `x_mm` on the baseline."""

    font: str
    text: str
    x_mm: float
    baseline_mm: float
    em_mm: float


@dataclass(frozen=True, slots=True)
class Lettering:
    """A text as it is drawn. Frames stand around the code points of characters that no font has."""

    runs: tuple[PlacedRun, ...] = ()
    frames: tuple[Box, ...] = ()

    def __add__(self, other: "Lettering") -> "Lettering":
        return Lettering(self.runs + other.runs, self.frames + other.frames)
