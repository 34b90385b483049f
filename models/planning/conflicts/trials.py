"""Trying a changed job: quickly on the pieces that clash, and then on all that lies with them."""

from collections.abc import Callable, Collection
from dataclasses import replace
from functools import cached_property

from models.job.job import Job, Side
from models.planning.greedy.construct import first_sequence
from models.planning.problem.patterns import ways_to_hit
from models.planning.problem.side import SideWork, side_of, side_work

Stopped = Callable[[], bool]
Pairs = frozenset[frozenset[str]]

MOST_TRIED = 1500
"""Pieces planned in all while mends of a clash are sought: so many jobs of one piece, half as many of two."""

MOST_TRIED_WHOLE = 1500
"""The same, planned on whole sides."""


def goes(work: SideWork) -> bool:
    """Whether a sequence for the side is found at once."""
    order = work.order
    in_the_way = order.forbidden_stacks() or order.deadlocks() or order.circle()
    return not in_the_way and first_sequence(work, ways_to_hit(work)) is not None


class Trials:
    """Tries changed jobs while tries are left and nobody has asked to stop; then nothing frees any more.

    `pieces` of the side clash. `later` names pieces of any side that clash otherwise and that other changes
    have to free: the whole is tried without these.
    """

    def __init__(
        self, work: SideWork, pieces: Collection[int], is_stopped: Stopped, later: Collection[str] = ()
    ) -> None:
        self.work = work
        self.clashing = frozenset(work.pieces[piece].id for piece in pieces)
        self.later = frozenset(later) - self.clashing
        self.is_stopped = is_stopped
        self.left, self.left_whole = MOST_TRIED, MOST_TRIED_WHOLE

    @property
    def is_over(self) -> bool:
        return min(self.left, self.left_whole) < 0 or self.is_stopped()

    def frees_them(self, changed: Job) -> bool:
        """Whether the clashing pieces by themselves can be planned."""
        self.left -= len(self.clashing)
        pieces = tuple(piece for piece in changed.pieces if piece.id in self.clashing)
        return not self.is_over and goes(side_work(replace(changed, pieces=pieces), self.work.side))

    def frees_all(self, changed: Job) -> bool:
        """Whether each side that the change meets can be planned too; another one just if it could before."""
        return self.frees_them(changed) and all(
            self._is_sound(changed, side) or (side != self.work.side and not self._went(side))
            for side in changed.sides
            if _seen_of(changed, side) != _seen_of(self.work.job, side)
        )

    def _is_sound(self, changed: Job, side: Side) -> bool:
        work = side_work(changed, side)
        self.left_whole -= len(work.pieces)
        brings_none = _clashing_pairs(work) <= self._clashing_before
        return not self.is_over and brings_none and goes(self._without_later(work))

    def _went(self, side: Side) -> bool:
        return goes(self._without_later(side_work(self.work.job, side)))

    def _without_later(self, work: SideWork) -> SideWork:
        return side_of(work, [k for k, piece in enumerate(work.pieces) if piece.id not in self.later])

    @cached_property
    def _clashing_before(self) -> Pairs:
        job = self.work.job
        return frozenset().union(*(_clashing_pairs(side_work(job, side)) for side in job.sides))


def _clashing_pairs(work: SideWork) -> Pairs:
    pairs = (*work.order.forbidden_stacks(), *work.order.deadlocks())
    return frozenset(frozenset(work.pieces[piece].id for piece in pair) for pair in pairs)


def _seen_of(job: Job, side: Side) -> object:
    """All that decides how the side is worked."""
    pieces = tuple(piece for piece in job.pieces if piece.side == side.name)
    return pieces, tuple(job.material(piece.material) for piece in pieces), job.presses
