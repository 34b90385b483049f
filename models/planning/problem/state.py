"""A closing on one side as the planner tries it, and what the side's parts have had so far.

Sets of pieces, and sets of parts, are bits of an integer.
"""

from dataclasses import dataclass

from models.planning.problem.bitset import bits_of, members
from models.planning.problem.patterns import Way
from models.planning.problem.side import SideWork


@dataclass(frozen=True, slots=True)
class Closing:
    """The pieces `laid` for it, where and how the press comes down, and for how long."""

    way: Way
    laid: int
    dwell_s: int


@dataclass(frozen=True, slots=True)
class Standing:
    """`laid` and `down` are pieces, `finish_due` parts.

    For each part, `missing_s` are the counted seconds that it wants until it is down, and `left_s` the
    seconds that it still bears under the platen in all.
    """

    laid: int
    down: int
    finish_due: int
    missing_s: tuple[int, ...]
    left_s: tuple[int, ...]

    @property
    def in_work(self) -> int:
        return self.laid & ~self.down


def bare(work: SideWork) -> Standing:
    """Nothing is laid yet."""
    return Standing(
        laid=0,
        down=0,
        finish_due=work.parts_where(lambda part: part.material.finish_s > 0),
        missing_s=tuple(part.material.least_s for part in work.parts),
        left_s=tuple(part.material.total_s for part in work.parts),
    )


def after_closing(work: SideWork, now: Standing, closing: Closing) -> Standing:
    laid = now.laid | closing.laid
    present = work.parts_of(laid)
    missing_s = _lowered(now.missing_s, closing.way.counted & present, closing.dwell_s)
    return Standing(
        laid=laid,
        down=now.down | laid & ~work.pieces_of(_missing(missing_s)),
        finish_due=now.finish_due & ~finished_by(work, now, closing),
        missing_s=missing_s,
        left_s=_lowered(now.left_s, closing.way.touched & present, closing.dwell_s),
    )


def finished_by(work: SideWork, now: Standing, closing: Closing, counted: int | None = None) -> int:
    """The parts that get their second press, or that would if the closing counted for these."""
    counted = closing.way.counted if counted is None else counted
    due = now.finish_due & counted & work.parts_of(now.down)
    if not due:  # mostly so, and much asked for
        return 0
    return bits_of(k for k in members(due) if work.parts[k].material.finish_s <= closing.dwell_s)


def is_done(work: SideWork, now: Standing) -> bool:
    return now.down == work.every_piece and not now.finish_due


def _missing(missing_s: tuple[int, ...]) -> int:
    """The parts that want counted seconds."""
    return bits_of(k for k, s in enumerate(missing_s) if s)


def _lowered(seconds: tuple[int, ...], parts: int, by_s: int) -> tuple[int, ...]:
    """Never below 0."""
    lowered = list(seconds)
    for k in members(parts):
        lowered[k] = lowered[k] - by_s if lowered[k] > by_s else 0
    return tuple(lowered)
