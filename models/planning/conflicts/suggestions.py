"""What would free pieces that clash, line by line, as a person reads it: all of it tried."""

from collections.abc import Sequence
from dataclasses import dataclass

from models.job.job import Job, Side
from models.planning.conflicts.smallest_change import Mend, clashing_pieces, mends, mends_of_these_alone
from models.planning.conflicts.trials import Stopped, goes
from models.planning.problem.side import SideWork, side_of, side_work

MOST_TOLD = 3
"""More clashes than these are not read at once."""

NONE_TRIED = "no single change that was tried"


@dataclass(frozen=True, slots=True)
class Clash:
    """Pieces of a side, by their ids, that leave no way; `words` say why."""

    side: Side
    pieces: frozenset[str]
    words: str


@dataclass(frozen=True, slots=True)
class _Freed:
    """What is told of a clash, and the job with the change told first; without a job, none freed it."""

    told: str
    job: Job | None = None


def clash_of(work: SideWork, pieces: Sequence[int], words: str) -> Clash:
    return Clash(work.side, frozenset(work.pieces[piece].id for piece in pieces), words)


def told_of(job: Job, clashes: Sequence[Clash], is_stopped: Stopped) -> str:
    """A line for each clash, a few at most, with what frees it; then what comes of all changes together.

    Each clash is freed in the job with the changes made that are told first for those above it.
    """
    told, untold = clashes[:MOST_TOLD], clashes[MOST_TOLD:]
    lines, mended, unfreed = list[str](), job, _pieces_of(untold)
    besides = _stuck_besides(job, clashes, is_stopped)
    for n, clash in enumerate(told, start=1):
        freed = _freed(mended, clash, besides | unfreed | _pieces_of(told[n:]), is_stopped)
        lines.append(f"{clash.words}; {freed.told}")
        mended = freed.job or mended
        unfreed |= frozenset() if freed.job else clash.pieces
    if not is_stopped():
        lines.extend(_together(mended, len(told), len(untold), is_all_freed=not unfreed))
    return "\n".join(lines)


def _pieces_of(clashes: Sequence[Clash]) -> frozenset[str]:
    return frozenset().union(*(clash.pieces for clash in clashes))


def _stuck_besides(job: Job, clashes: Sequence[Clash], is_stopped: Stopped) -> frozenset[str]:
    """Pieces of the same sides for which no sequence is found, however the clashes are freed."""
    clashing, stuck = _pieces_of(clashes), frozenset[str]()
    for side in {clash.side.name: clash.side for clash in clashes}.values():
        work = side_work(job, side)
        rest = side_of(work, [k for k, piece in enumerate(work.pieces) if piece.id not in clashing])
        while not goes(rest):
            found = {rest.pieces[k].id for k in clashing_pieces(rest, is_stopped)}
            stuck |= found
            rest = side_of(rest, [k for k, piece in enumerate(rest.pieces) if piece.id not in found])
    return stuck


def _freed(job: Job, clash: Clash, later: frozenset[str], is_stopped: Stopped) -> _Freed:
    work = side_work(job, clash.side)
    pieces = [k for k, piece in enumerate(work.pieces) if piece.id in clash.pieces]
    if not is_stopped() and goes(side_of(work, pieces)):
        return _Freed("the first change above frees them too", job)
    found = mends(work, pieces, is_stopped, later)
    if found:
        return _Freed(_told(found), found[0].job)
    alone = mends_of_these_alone(work, pieces, is_stopped)
    if alone:
        return _Freed(f"to free that alone, {_told(alone)}; but {NONE_TRIED} gives the job a plan")
    return _Freed(f"{NONE_TRIED} frees them")


def _told(found: Sequence[Mend]) -> str:
    return "; or ".join(mend.told for mend in found)


def _together(mended: Job, told: int, untold: int, *, is_all_freed: bool) -> list[str]:
    """A line where there is more to say than what frees a single clash."""
    if untold:
        return [f"{untold} more like these: make these changes first, and plan again"]
    if not is_all_freed:
        return [] if told == 1 else ["not each of these could be freed by a single change"]
    first = "the first change" if told == 1 else "the first change of each line"
    if not all(goes(side_work(mended, side)) for side in mended.sides):
        return [f"with {first} made, no plan is found at once: plan again then"]
    return [] if told == 1 else [f"with {first} made, the job has a plan"]
