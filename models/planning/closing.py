"""A closing on one side as the planner tries it, and what the side's parts have had so far.

Sets of pieces, and sets of parts, are bits of an integer.
"""

from dataclasses import dataclass, replace

from models.planning.bits import members
from models.planning.candidates import Way
from models.planning.side_work import SideWork


@dataclass(frozen=True, slots=True)
class Closing:
    """The pieces `laid` for it, where and how the press comes down, and for how long."""

    way: Way
    laid: int
    dwell_s: int


@dataclass(frozen=True, slots=True)
class Standing:
    """`laid` and `down` are pieces, `finish_due` parts; the seconds hold a number for each part."""

    laid: int
    down: int
    finish_due: int
    counted_s: tuple[int, ...]
    heated_s: tuple[int, ...]

    @property
    def in_work(self) -> int:
        return self.laid & ~self.down


def bare(work: SideWork) -> Standing:
    """Nothing is laid yet."""
    zeros = tuple(0 for _ in work.parts)
    return Standing(0, 0, work.parts_where(lambda part: part.material.finish_s > 0), zeros, zeros)


def after_closing(work: SideWork, now: Standing, closing: Closing) -> Standing:
    laid = now.laid | closing.laid
    present = work.parts_of(laid)
    touched, counted = closing.way.touched & present, closing.way.counted & present
    counted_s = _grown(now.counted_s, counted, closing.dwell_s)
    pressed = replace(
        now,
        laid=laid,
        finish_due=now.finish_due & ~finished_by(work, now, closing),
        counted_s=counted_s,
        heated_s=_grown(now.heated_s, touched, closing.dwell_s),
    )
    return replace(pressed, down=_down(work, laid, counted_s))


def finished_by(work: SideWork, now: Standing, closing: Closing) -> int:
    """The parts that get their second press."""
    due = now.finish_due & closing.way.counted & work.parts_of(now.down)
    return sum(1 << k for k in members(due) if work.parts[k].material.finish_s <= closing.dwell_s)


def is_done(work: SideWork, now: Standing) -> bool:
    return now.down == work.every_piece and not now.finish_due


def _down(work: SideWork, laid: int, counted_s: tuple[int, ...]) -> int:
    return sum(
        1 << piece
        for piece in members(laid)
        if all(counted_s[k] >= work.parts[k].material.least_s for k in members(work.parts_of_piece[piece]))
    )


def _grown(seconds: tuple[int, ...], parts: int, by_s: int) -> tuple[int, ...]:
    return tuple(s + by_s if parts >> k & 1 else s for k, s in enumerate(seconds))
