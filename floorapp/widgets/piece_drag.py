"""A finger that takes a piece of the map elsewhere: how far, in whole mm of the garment. No Kivy here."""

from dataclasses import dataclass, replace
from math import hypot

from models.geometry import Point
from models.job.job import Piece


@dataclass(frozen=True, slots=True)
class PieceDrag:
    """From `start_px` to `at_px`. A finger that stays within `slack_px` means to tap, not to drag."""

    piece: Piece
    start_px: Point
    at_px: Point
    px_per_mm: float
    slack_px: float
    is_begun: bool = False

    def to(self, at_px: Point) -> "PieceDrag":
        """The finger is there now; once it has left the slack, it drags wherever it goes."""
        far_px = hypot(at_px[0] - self.start_px[0], at_px[1] - self.start_px[1])
        return replace(self, at_px=at_px, is_begun=self.is_begun or far_px > self.slack_px)

    @property
    def shift_mm(self) -> tuple[int, int]:
        """To the right and down; pixels count upwards."""
        right_px, up_px = self.at_px[0] - self.start_px[0], self.at_px[1] - self.start_px[1]
        return round(right_px / self.px_per_mm), round(-up_px / self.px_per_mm)
