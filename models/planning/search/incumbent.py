"""What is known of the hits of one side: a sequence, and the number below which there is none."""

from dataclasses import dataclass

from models.planning.problem.patterns import Way
from models.planning.problem.side import SideWork
from models.planning.problem.simple_bounds import fewest_hits
from models.planning.problem.state import Closing


@dataclass(frozen=True, slots=True)
class SideResult:
    """The best sequence so far, if any, and the proved lower bound on the hits.

    Of its further costs: the seconds that so many hits take at the least, and the re-heats that so many hits
    of so many seconds take at the least. `forcing` are a few pieces that by themselves take as many hits as
    the bound, once they are known.
    """

    work: SideWork
    ways: tuple[Way, ...]
    closings: tuple[Closing, ...] | None
    bound: int
    least_dwell_s: int = 0
    least_reheats: int = 0
    forcing: tuple[int, ...] = ()

    @property
    def is_proved(self) -> bool:
        return self.closings is not None and len(self.closings) == self.bound


def begun(work: SideWork, ways: tuple[Way, ...], closings: tuple[Closing, ...] | None) -> SideResult:
    """What is known without a search."""
    return SideResult(work, ways, closings, fewest_hits(work, ways))
