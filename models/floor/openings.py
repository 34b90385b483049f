"""When a press was really opened: which seconds can be true, and what too long a closing has overstepped."""

from datetime import datetime

from models.errors import ImpossibleSecondsError
from models.garment.countdown import CLOCKS_MAY_DIFFER_S
from models.garment.events import Event, Opened
from models.garment.progress import Progress, effective
from models.planning.parts import touched_parts
from models.store.records import StoredGarment

LATE_TAP_S = 10
"""Up to so many seconds after the end of a hit, a tap on "open" is a hand on its way from the press to the
screen, and the press was open at the end. After more than that nobody but the operator knows (common
practice, no source)."""


def refuse_impossible(seconds: int, closed_at: datetime | None, now: datetime) -> None:
    """Raises ImpossibleSecondsError for more seconds than have passed since the press came down.

    Two stations' clocks may differ a little; a clock that was set back since can refuse nothing.
    """
    passed_s = (now - closed_at).total_seconds() if closed_at is not None else 0.0
    was_set_back = passed_s < -CLOCKS_MAY_DIFFER_S
    if seconds > passed_s + CLOCKS_MAY_DIFFER_S and not was_set_back:
        raise ImpossibleSecondsError(
            f"the press came down {max(0, int(passed_s))} s ago and cannot have been closed for {seconds} s; "
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
