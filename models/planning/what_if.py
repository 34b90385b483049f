"""A job changed for a try: another platen, other numbers of a material, a piece elsewhere. Nothing is stored.

Each change gives a new job, or raises TryRefusedError where no job file could say that, or where no press of
the job could press it.
"""

from dataclasses import dataclass, replace

from models.errors import DataError
from models.job.job import Job, Material
from models.job.on_the_side import lies_on_in_every_size
from models.plan.plan import Plan

SMALLEST_PLATEN_MM = 20.0
WALKS = "walks between presses"


class TryRefusedError(DataError):
    """No job file could say what is tried, or no press could do it."""


@dataclass(frozen=True, slots=True)
class Compared:
    """One total before and after; `after` is None where there is no plan."""

    name: str
    before: int
    after: int | None


def with_platen(job: Job, press: int, wider_mm: float = 0, higher_mm: float = 0) -> Job:
    """The press of that number with another platen."""
    old = job.presses[press]
    new = replace(
        old,
        platen_width_mm=old.platen_width_mm + wider_mm,
        platen_height_mm=old.platen_height_mm + higher_mm,
    )
    if min(new.platen_width_mm, new.platen_height_mm) < SMALLEST_PLATEN_MM:
        raise TryRefusedError(f"a platen is at least {SMALLEST_PLATEN_MM:g} mm wide and high; take it larger")
    presses = (*job.presses[:press], new, *job.presses[press + 1 :])
    return replace(job, press=presses[0], more_presses=presses[1:])


def with_material(job: Job, key: str, number: str, more: int) -> Job:
    """The material with `more` in one of set_c, lowest_c, hottest_c, least_s and longest_s."""
    old = job.material(key)
    new = replace(old, **{number: getattr(old, number) + more})
    if not new.lowest_c <= new.set_c <= new.hottest_c:
        raise TryRefusedError(f"{new.label}: lowest, set and hottest stand in this order; change another")
    if not 1 <= new.least_s <= new.total_s or not 1 <= new.longest_s <= new.total_s:
        raise TryRefusedError(f"{new.label}: seconds go from 1 to the {new.total_s} s that it bears in all")
    if new.first_s > new.least_s:
        raise TryRefusedError(f"{new.label} begins with {new.first_s} s, and least is no less than that")
    _refuse_out_of_reach(job, new)
    return replace(
        job, materials=tuple(new if material.key == key else material for material in job.materials)
    )


def _refuse_out_of_reach(job: Job, material: Material) -> None:
    """Raises TryRefusedError where no press, on this fabric, may be set to a heat in its window."""
    coolest_c = min(press.lowest_c for press in job.presses)
    if material.lowest_c > job.hottest_c:
        raise TryRefusedError(
            f"{material.label} would want {material.lowest_c:g} °C at least, and {job.fabric.name} on these "
            f"presses bears {job.hottest_c:g} °C; take less"
        )
    if material.hottest_c < coolest_c:
        raise TryRefusedError(
            f"{material.label} would bear {material.hottest_c:g} °C, and no press is set below "
            f"{coolest_c:g} °C; take more"
        )


def with_piece_moved(job: Job, piece_id: str, right_mm: float, down_mm: float) -> Job:
    old = job.piece(piece_id)
    new = replace(old, outline=old.outline.mapped(lambda point: (point[0] + right_mm, point[1] + down_mm)))
    if not lies_on_in_every_size(job.side(new.side), new.box):
        raise TryRefusedError(f"{new.label} would lie more than half off {new.side}; move it back")
    return replace(job, pieces=tuple(new if piece.id == piece_id else piece for piece in job.pieces))


def changes(before: Job, after: Job) -> tuple[str, ...]:
    """What was changed, in words, with what it was."""
    platens = [
        f"platen {new.name} {new.platen_width_mm:g} × {new.platen_height_mm:g} mm".replace("  ", " ")
        + f", was {old.platen_width_mm:g} × {old.platen_height_mm:g}"
        for old, new in zip(before.presses, after.presses, strict=True)
        if old != new
    ]
    numbers = [
        f"{new.label}: {words_of(new)}, was {words_of(old)}"
        for old, new in zip(before.materials, after.materials, strict=True)
        if old != new
    ]
    moved = [
        f"{new.label} {shift_words(new.box.x - old.box.x, new.box.y - old.box.y)}"
        for old, new in zip(before.pieces, after.pieces, strict=True)
        if old.outline != new.outline
    ]
    return (*platens, *numbers, *moved)


def shift_words(right_mm: float, down_mm: float) -> str:
    """How far and where to something is moved.

    >>> shift_words(12, -3)
    '12 mm right, 3 mm up'
    >>> shift_words(0, 5)
    '5 mm down'
    """
    across = f"{abs(right_mm):g} mm {'right' if right_mm > 0 else 'left'}" if right_mm else ""
    along = f"{abs(down_mm):g} mm {'down' if down_mm > 0 else 'up'}" if down_mm else ""
    return ", ".join(filter(None, (across, along))) or "where it was"


def words_of(material: Material) -> str:
    """The numbers of a material that a try may change."""
    window = f"{material.lowest_c:g} to {material.hottest_c:g} °C, set {material.set_c:g}"
    return f"{window}, {material.least_s} to {material.longest_s} s"


def compared(before: Plan, after: Plan | None) -> tuple[Compared, ...]:
    """The totals side by side, in the order in which they count."""
    names = {
        "hits": "hits",
        "walks": WALKS,
        "temperature_changes": "changes of temperature",
        "side_changes": "changes of side",
        "dwell_s": "seconds under the press",
        "reheats": "pieces heated again",
    }
    return tuple(
        Compared(words, getattr(before.totals, name), getattr(after.totals, name) if after else None)
        for name, words in names.items()
    )
