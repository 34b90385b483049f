"""The smallest changes that free a stuck side, found by trying: each is planned anew, greedily."""

from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from models.job.job import Job
from models.planning.conflicts.changes import Change, changes_by_kind
from models.planning.conflicts.trials import Stopped, Trials, goes
from models.planning.problem.side import SideWork, side_of

MOST_PIECES = 40
"""A side of more pieces is not taken apart: that would keep a person waiting."""

MOST_MENDS = 3

MOST_ONE_BY_ONE = 60
"""Steps that are tried one by one: more of one change need not free what fewer did."""


Frees = Callable[[Job], bool]


@dataclass(frozen=True, slots=True)
class Mend:
    """`change` by `steps` was tried and frees the pieces; by a step less, it was tried and does not."""

    change: Change
    steps: int

    @property
    def told(self) -> str:
        return self.change.told(self.steps)

    @property
    def job(self) -> Job:
        """The whole job, mended."""
        return self.change.made(self.steps)


def clashing_pieces(work: SideWork, is_stopped: Stopped) -> list[int]:
    """Pieces that are stuck together, as few as were found: without any one of them, the others are not."""
    kept = list(range(len(work.pieces)))
    if len(kept) > MOST_PIECES:
        return kept
    for piece in list(kept):
        fewer = [other for other in kept if other != piece]
        if not is_stopped() and not goes(side_of(work, fewer)):
            kept = fewer
    return kept


def mends(
    work: SideWork, pieces: Sequence[int], is_stopped: Stopped, later: Collection[str] = ()
) -> list[Mend]:
    """What would free `pieces`, the smallest change of each kind, a few at most.

    With each of them the job can be planned, but for pieces named in `later`, which need other changes.
    """
    trials = Trials(work, pieces, is_stopped, later)
    return _found(work, pieces, trials, (trials.frees_them, trials.frees_all))


def mends_of_these_alone(work: SideWork, pieces: Sequence[int], is_stopped: Stopped) -> list[Mend]:
    """The same, where it is enough that the pieces by themselves are free."""
    trials = Trials(work, pieces, is_stopped)
    return _found(work, pieces, trials, (trials.frees_them,))


def _found(work: SideWork, pieces: Sequence[int], trials: Trials, asked: Sequence[Frees]) -> list[Mend]:
    found: list[Mend] = []
    for changes in changes_by_kind(work, pieces):
        smallest = _smallest(changes, trials, asked)
        if smallest is not None:
            found.append(smallest)
        if len(found) == MOST_MENDS:
            break
    return found


def _smallest(changes: Sequence[Change], trials: Trials, asked: Sequence[Frees]) -> Mend | None:
    """Of all these the one with the fewest steps, the first such."""
    best: Mend | None = None
    for change in changes:
        most = change.most if best is None else min(change.most, best.steps - 1)
        steps = _steps(change, most, asked)
        if steps is not None and not trials.is_over:
            best = Mend(change, steps)
    return best


def _steps(change: Change, most: int, asked: Sequence[Frees]) -> int | None:
    """The fewest, for which all that is asked holds: what is quickly tried comes first."""
    fewest: int | None = 1
    for frees in asked:
        if fewest is not None:
            fewest = _fewest_steps(change, fewest - 1, most, frees)
    return fewest


def _fewest_steps(change: Change, less: int, most: int, frees: Frees) -> int | None:
    """More than `less`, of which it is known that they are too few; a step less than given, they are too."""
    for too_few, enough in pairwise(less + more for more in (0, *_tried(most - less))):
        if frees(change.made(enough)):
            return _between(change, too_few, enough, frees)
    return None


def _between(change: Change, too_few: int, enough: int, frees: Frees) -> int:
    while enough - too_few > 1:
        middle = (too_few + enough) // 2
        if frees(change.made(middle)):
            enough = middle
        else:
            too_few = middle
    return enough


def _tried(most: int) -> Iterator[int]:
    """Each step; of very many 1, 2, 4 ... and the last."""
    if most <= MOST_ONE_BY_ONE:
        yield from range(1, most + 1)
    else:
        yield from (1 << n for n in range((most - 1).bit_length()))
        yield most
