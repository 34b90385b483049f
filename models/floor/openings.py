"""When a press was really opened: which seconds can be true, and what too long a closing has overstepped."""

from models.errors import ImpossibleSecondsError
from models.garment.events import Event, Opened
from models.garment.progress import Progress, effective
from models.planning.hits.coverage import touched_parts
from models.store.records import StoredGarment

LATE_TAP_S = 10
"""Up to so many seconds after the end of a hit, a tap on "open" is a hand on its way from the press to the
screen, and the press was open at the end. After more than that nobody but the operator knows (common
practice, no source)."""
COUNTED_BY_EYE_S = 2
"""Whoever tells seconds from a glance may be off by so many (common practice, no source)."""


def refuse_impossible(seconds: int, closed_s: int | None) -> None:
    """Raise ImpossibleSecondsError for 0 s, and for more seconds than have passed since the press came down.

    `closed_s` have passed by the countdown of this run of the app. It is None if no countdown of this run
    began with the closing: a time of day in the log refuses nothing, since clocks are set and differ.
    """
    if seconds < 1:
        raise ImpossibleSecondsError(
            "0 s under the press is no hit; type at least 1 s, or say that the press never came down"
        )
    if closed_s is not None and seconds > closed_s + COUNTED_BY_EYE_S:
        raise ImpossibleSecondsError(
            f"the press came down {closed_s} s ago and cannot have been closed for {seconds} s; "
            "type the seconds that it was closed"
        )


def seconds_of_last_hit(log: tuple[Event, ...]) -> int:
    """How long the press was closed the last time that counts; 0 before that."""
    openings = (event.what for event in reversed(effective(log)))
    return next((what.seconds for what in openings if isinstance(what, Opened)), 0)


def too_long_at_once(garment: StoredGarment) -> tuple[str, ...]:
    """The pieces under the platen of the step in hand whose material takes fewer seconds in one hit."""
    job, seconds = garment.progress.recipe.job, seconds_of_last_hit(garment.log)
    return tuple(p for p in _touched(garment.progress) if job.material_of(p).longest_s < seconds)


def too_long_in_all(progress: Progress) -> dict[str, int]:
    """The pieces under the platen of the step in hand that had more seconds in all than their material
    takes, and how many.
    """
    job = progress.recipe.job
    heated_s = {piece: max(progress.records[piece].heated_s) for piece in _touched(progress)}
    return {piece: s for piece, s in heated_s.items() if s > job.material_of(piece).total_s}


def _touched(progress: Progress) -> tuple[str, ...]:
    job = progress.recipe.job
    lying = (piece for piece in job.pieces if progress.records[piece.id].laid)
    return tuple(piece.id for piece in lying if any(touched_parts(progress.hit, piece, job)))
