"""What is known of the hits of one side: a sequence, and the number below which there is none."""

from dataclasses import dataclass

from models.planning.bounds import fewest_hits
from models.planning.candidates import Way
from models.planning.closing import Closing
from models.planning.side_work import SideWork


@dataclass(frozen=True, slots=True)
class SideResult:
    """The best sequence so far, if any, and the proved lower bound on the hits.

    Of its further costs: whether so many hits need that much dwell; and their fewest re-heats, if proved.
    `forcing` are a few pieces that by themselves take as many hits as the bound, once they are known.
    """

    work: SideWork
    ways: tuple[Way, ...]
    closings: tuple[Closing, ...] | None
    bound: int
    is_least_dwell: bool = False
    fewest_reheats: int | None = None
    forcing: tuple[int, ...] = ()

    @property
    def is_proved(self) -> bool:
        return self.closings is not None and len(self.closings) == self.bound


def begun(work: SideWork, ways: tuple[Way, ...], closings: tuple[Closing, ...] | None) -> SideResult:
    """What is known without a search."""
    return SideResult(work, ways, closings, fewest_hits(work, ways))
