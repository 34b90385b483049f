"""First-pass yield, rework ratio and scrap ratio, as ISO 22400-2 defines them."""

from collections.abc import Iterable
from dataclasses import dataclass

from models.garment.cycle import ENDED, State
from models.garment.progress import Progress
from models.intervals import Interval, wilson_interval


@dataclass(frozen=True, slots=True)
class KeyFigures:
    """Quantities of garments, and the ratios of them; a ratio of nothing is None, never 0.

    Only garments that have ended count, so that no figure changes by a garment being in work:
    inspected (IP) and produced (PQ) are those complete or spoiled, for each one's last check is its verdict.
    """

    produced: int  # PQ, and IP
    good_first_pass: int  # GP: complete, and nothing on it was pressed again for a finding
    reworked: int  # RQ: pressed again for a finding; seconds made up after an early opening are no rework
    spoiled: int  # SQ

    @property
    def first_pass_yield(self) -> float | None:
        """GP / IP. Source: ISO 22400-2, first pass yield."""
        return ratio(self.good_first_pass, self.produced)

    @property
    def rework_ratio(self) -> float | None:
        """RQ / PQ. Source: ISO 22400-2, rework ratio."""
        return ratio(self.reworked, self.produced)

    @property
    def scrap_ratio(self) -> float | None:
        """SQ / PQ. Source: ISO 22400-2, scrap ratio."""
        return ratio(self.spoiled, self.produced)

    @property
    def first_pass_interval(self) -> Interval | None:
        """The first-pass yield that the batch's way of working may truly have, at 95 % confidence."""
        return wilson_interval(self.good_first_pass, self.produced) if self.produced else None


def ratio(part: int, whole: int) -> float | None:
    return part / whole if whole else None


def key_figures_of(garments: Iterable[Progress]) -> KeyFigures:
    """Counts the garments; one in work, held, or found wrong again after completion does not count yet."""
    ended = [garment for garment in garments if garment.state in ENDED]
    return KeyFigures(
        produced=len(ended),
        good_first_pass=sum(g.state == State.COMPLETE and not g.repressed for g in ended),
        reworked=sum(g.repressed for g in ended),
        spoiled=sum(g.state == State.SPOILED for g in ended),
    )
