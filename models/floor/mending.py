"""What is planned against what went wrong on a garment in hand: a lift, an early opening, too long a hit."""

from collections.abc import Container, Iterable, Mapping

from models.garment.events import FindingKind
from models.garment.progress import Progress
from models.job.job import Job
from models.plan.plan import Hit
from models.planning.rework.hits_ahead import plan_rest
from models.planning.rework.incident import Mending, Trouble
from models.planning.rework.plan_rework import plan_extra_hits, seconds_short

MENDED_BY_PRESSING = frozenset({FindingKind.LIFT, FindingKind.WRINKLE})
"""Findings that another hit can mend; the others are held or spoiled."""


def seconds_again(job: Job, pieces: Iterable[str], seconds: int | None = None) -> dict[str, int]:
    """A lifted piece wants its material's least seconds again, or fewer where the operator says so."""
    least_s = {piece: job.material_of(piece).least_s for piece in pieces}
    return {piece: min(seconds or least, least) for piece, least in least_s.items()}


def hits_ahead(progress: Progress) -> tuple[Hit, ...]:
    return tuple(step.hit for step in progress.steps[progress.position + 1 :])


def repressing(progress: Progress, lifted_s: Mapping[str, int]) -> Mending:
    """What gives each lifted piece its seconds again, and what an early opening left out besides.

    Raises NoExtraHitError with the limit that is in the way.
    """
    return _mending(progress, Trouble(lifted_s=lifted_s, short_s=_short_s(progress, lifted_s)))


def replacing(progress: Progress, pieces: tuple[str, ...]) -> Mending:
    """What lays these pieces anew and presses them. Raises NoExtraHitError with what is in the way."""
    return _mending(progress, Trouble(replaced=pieces, short_s=_short_s(progress, pieces)))


def remainder(progress: Progress) -> Mending:
    """What gives the seconds that an early opening left out. Raises NoExtraHitError with the reason."""
    return _mending(progress, Trouble(short_s=_short_s(progress)))


def rest_anew(progress: Progress) -> tuple[Hit, ...] | None:
    """The hits in place of those ahead where a piece had too long a hit for them; None where they stay.

    Raises NoExtraHitError where no other hits are left within the rules.
    """
    job, ahead = progress.recipe.job, hits_ahead(progress)
    return plan_rest(job, progress.records, progress.peeled, ahead)


def missing_seconds(progress: Progress) -> dict[str, int]:
    """Seconds that the step in hand left out and that the hits ahead will not give in time, by piece."""
    return {piece: max(seconds) for piece, seconds in _short_s(progress).items()}


def _short_s(progress: Progress, besides: Container[str] = ()) -> dict[str, tuple[int, ...]]:
    job, ahead = progress.recipe.job, hits_ahead(progress)
    short = seconds_short(job, progress.records, progress.hit, ahead)
    return {piece: seconds for piece, seconds in short.items() if piece not in besides}


def _mending(progress: Progress, trouble: Trouble) -> Mending:
    """The press is taken to stand as the garment's own last hit left it."""
    job, ahead = progress.recipe.job, hits_ahead(progress)
    return plan_extra_hits(job, progress.records, progress.peeled, ahead, trouble, last=progress.hit)
