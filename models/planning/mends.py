"""The smallest changes that free a stuck side, found by trying: each is planned anew, greedily."""

from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from models.job.job import Job
from models.planning.candidates import ways_to_hit
from models.planning.greedy import first_sequence
from models.planning.mend_changes import Change, changes_by_kind
from models.planning.side_work import SideWork, only, side_work

MOST_PIECES = 40
"""A side of more pieces is not taken apart: that would keep a person waiting."""

MOST_MENDS = 3

MOST_ONE_BY_ONE = 60
"""Steps that are tried one by one: more of one change need not free what fewer did."""

MOST_TRIED = 1500
"""Pieces planned in all while mends are sought: so many jobs of one piece, half as many of two."""

Stopped = Callable[[], bool]


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
        """The clashing pieces alone, mended."""
        return self.change.made(self.steps)


def clashing_pieces(work: SideWork, is_stopped: Stopped) -> list[int]:
    """Pieces that are stuck together, as few as were found: without any one of them, the others are not."""
    kept = list(range(len(work.pieces)))
    if len(kept) > MOST_PIECES:
        return kept
    for piece in list(kept):
        fewer = [other for other in kept if other != piece]
        if not is_stopped() and not _goes(work, fewer):
            kept = fewer
    return kept


def mends(work: SideWork, pieces: Sequence[int], is_stopped: Stopped) -> list[Mend]:
    """What would free `pieces`, the smallest change of each kind, a few at most; tried on these alone."""
    trials = _Trials(work, MOST_TRIED // len(pieces), is_stopped)
    found: list[Mend] = []
    for changes in changes_by_kind(work, pieces):
        smallest = _smallest(changes, trials)
        if smallest is not None:
            found.append(smallest)
        if len(found) == MOST_MENDS:
            break
    return found


@dataclass
class _Trials:
    """Tries jobs while some tries are left and nobody has asked to stop; then nothing frees any more."""

    work: SideWork
    left: int
    is_stopped: Stopped

    def is_free(self, change: Change, steps: int) -> bool:
        self.left -= 1
        return not self.is_over and _is_free(self.work, change.made(steps))

    @property
    def is_over(self) -> bool:
        return self.left < 0 or self.is_stopped()


def _smallest(changes: Sequence[Change], trials: _Trials) -> Mend | None:
    """Of all these the one with the fewest steps, the first such."""
    best: Mend | None = None
    for change in changes:
        most = change.most if best is None else min(change.most, best.steps - 1)
        steps = _fewest_steps(change, most, trials)
        if steps is not None:
            best = Mend(change, steps)
    return best


def _fewest_steps(change: Change, most: int, trials: _Trials) -> int | None:
    """Where it frees the pieces: a step less does not."""
    for too_few, enough in pairwise((0, *_tried(most))):
        if trials.is_free(change, enough):
            return _between(change, too_few, enough, trials)
    return None


def _between(change: Change, too_few: int, enough: int, trials: _Trials) -> int | None:
    while enough - too_few > 1:
        middle = (too_few + enough) // 2
        if trials.is_free(change, middle):
            enough = middle
        else:
            too_few = middle
    return None if trials.is_over else enough


def _tried(most: int) -> Iterator[int]:
    """Each step; of very many 1, 2, 4 ... and the last."""
    if most <= MOST_ONE_BY_ONE:
        yield from range(1, most + 1)
    else:
        yield from (1 << n for n in range((most - 1).bit_length()))
        yield most


def _goes(work: SideWork, pieces: Collection[int]) -> bool:
    return not pieces or _is_free(work, only(work, pieces))


def _is_free(work: SideWork, job: Job) -> bool:
    tried = side_work(job, work.side)
    in_the_way = tried.order.forbidden_stacks() or tried.order.deadlocks() or tried.order.circle()
    return not in_the_way and first_sequence(tried, ways_to_hit(tried)) is not None
