"""Changes to a job that may free pieces which clash, kind by kind, those that cost the shop least first.

Each goes in steps of a whole mm, °C, second or 10 mm of platen; a larger step is a larger change.
"""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from models.job.job import Job, Material, Piece, Press
from models.planning.problem.side import SideWork

NARROWEST_MM = 50
PLATEN_STEP_MM = 10
MOST_SECONDS = 300
ALLOWED = "if its maker allows it"
TRIMMED = " trimmed for "
"""In the key of a material, before the piece whose carrier is trimmed."""

DIRECTIONS = (("left", -1, 0), ("right", 1, 0), ("up", 0, -1), ("down", 0, 1))


@dataclass(frozen=True, slots=True)
class Change:
    """How step `n`, from 1 to `most`, is told, and the whole job with it."""

    most: int
    told: Callable[[int], str]
    made: Callable[[int], Job]


def changes_by_kind(work: SideWork, pieces: Sequence[int]) -> Iterator[list[Change]]:
    """What may free these pieces of the side."""
    job, clashing = work.job, [work.pieces[piece] for piece in sorted(pieces)]
    keys = dict.fromkeys(_untrimmed(piece.material) for piece in clashing)
    used = [job.material(key) for key in keys]
    order = work.order.among(sorted(pieces))
    yield [_trim(job, piece) for piece in clashing if _has_margin(job, piece)]
    yield [_other_order(job, clashing[upper], clashing[lower]) for upper, lower in sorted(order.stacked)]
    yield [_on_top(job, lower, upper) for lower in used for upper in used if not lower.takes(upper)]
    yield [_safe(job, material) for material in used if not material.carrier_safe]
    yield [_move(job, piece, *direction) for piece in clashing for direction in DIRECTIONS]
    yield [change for material in used for change in _wider_windows(job, material)]
    yield [change for n in range(len(job.presses)) for change in _smaller_platens(job, n)]


def _has_margin(job: Job, piece: Piece) -> bool:
    material = job.material(piece.material)
    return material.carrier and material.carrier_margin_mm > 0


def _trim(job: Job, piece: Piece) -> Change:
    """The piece gets a material of its own that differs in the carrier's margin only."""
    material = job.material(piece.material)
    widest_mm = math.ceil(material.carrier_margin_mm)
    trim = f"trim the carrier of {piece.label} to"

    def made(step: int) -> Job:
        untrimmed = _untrimmed(material.key)
        own = replace(material, key=f"{untrimmed}{TRIMMED}{piece.id}", carrier_margin_mm=widest_mm - step)
        materials = {each.key: _taking_alike(each, untrimmed, own.key) for each in (*job.materials, own)}
        trimmed = replace(piece, material=own.key)
        return _with_piece(replace(job, materials=tuple(materials.values())), trimmed)

    def told(step: int) -> str:
        return f"{trim} {widest_mm - step} mm" if step < widest_mm else f"{trim} its outline"

    return Change(widest_mm, told, made)


def _untrimmed(key: str) -> str:
    """The material that the job file names, of which a trimmed piece is too."""
    return key.partition(TRIMMED)[0]


def _taking_alike(material: Material, key: str, like: str) -> Material:
    takes = material.takes_on_top
    return replace(material, takes_on_top=takes | {like}) if key in takes else material


def _other_order(job: Job, upper: Piece, lower: Piece) -> Change:
    """The upper piece stands just before the lower one in the file, and so lies under it."""
    rest = [piece for piece in job.pieces if piece != upper]
    at = rest.index(lower)
    pieces = (*rest[:at], upper, *rest[at:])
    told = f"lay {upper.label} under {lower.label}: put it before {lower.label} in the job file"
    return Change(1, lambda _: told, lambda _: replace(job, pieces=pieces))


def _on_top(job: Job, lower: Material, upper: Material) -> Change:
    alike = frozenset(m.key for m in job.materials if _untrimmed(m.key) == upper.key)
    told = f"let {lower.label} take {upper.label} on top, {ALLOWED}"
    return Change(
        1,
        lambda _: told,
        lambda _: _with_material(job, lower, lambda m: replace(m, takes_on_top=m.takes_on_top | alike)),
    )


def _safe(job: Job, material: Material) -> Change:
    told = f"let carriers lie on {material.label}, {ALLOWED}"
    return Change(
        1, lambda _: told, lambda _: _with_material(job, material, lambda m: replace(m, carrier_safe=True))
    )


def _move(job: Job, piece: Piece, where: str, right: int, down: int) -> Change:
    """Its middle stays on the side."""
    side, (x, y) = job.side(piece.side), piece.box.centre
    room_mm = {"left": x, "right": side.width_mm - x, "up": y, "down": side.height_mm - y}[where]

    def made(step: int) -> Job:
        outline = piece.outline.mapped(lambda p: (p[0] + right * step, p[1] + down * step))
        return _with_piece(job, replace(piece, outline=outline))

    return Change(int(room_mm), lambda step: f"move {piece.label} {step} mm {where}", made)


def _wider_windows(job: Job, material: Material) -> Iterator[Change]:
    """Heat and seconds that the material itself would have to bear, one of them at a time."""
    m, label = material, material.label
    coolest_c = min(press.lowest_c for press in job.presses)
    yield Change(
        math.ceil(job.hottest_c - m.hottest_c),
        lambda n: f"let {label} be pressed at {m.hottest_c + n:g} °C, {ALLOWED}",
        lambda n: _with_material(job, m, lambda each: replace(each, hottest_c=m.hottest_c + n)),
    )
    yield Change(
        math.ceil(m.lowest_c - coolest_c),
        lambda n: f"let {label} be pressed at {m.lowest_c - n:g} °C, {ALLOWED}",
        lambda n: _with_material(job, m, lambda each: replace(each, lowest_c=m.lowest_c - n)),
    )
    yield Change(
        m.total_s - m.longest_s,
        lambda n: f"let {label} be pressed for {m.longest_s + n} s at once, {ALLOWED}",
        lambda n: _with_material(job, m, lambda each: replace(each, longest_s=m.longest_s + n)),
    )
    yield Change(
        MOST_SECONDS,
        lambda n: f"let {label} be pressed for {m.total_s + n} s in all, {ALLOWED}",
        lambda n: _with_material(job, m, lambda each: replace(each, total_s=m.total_s + n)),
    )


def _smaller_platens(job: Job, n: int) -> Iterator[Change]:
    """The platen of press `n`, counted from 0, narrower, lower, or both."""
    press = job.presses[n]
    width_mm, height_mm = press.platen_width_mm, press.platen_height_mm
    where = f" on {press.name}" if press.name else ""

    def smaller(step: int, narrower: bool, lower: bool) -> Press:
        width = _less(width_mm, step) if narrower else width_mm
        height = _less(height_mm, step) if lower else height_mm
        return replace(press, platen_width_mm=width, platen_height_mm=height)

    def change(narrower: bool, lower: bool) -> Change:
        def told(step: int) -> str:
            least = smaller(step, narrower, lower)
            return f"take a platen of {least.platen_width_mm:g} × {least.platen_height_mm:g} mm{where}"

        longest_mm = min([width_mm] * narrower + [height_mm] * lower)
        most = math.ceil((longest_mm - NARROWEST_MM) / PLATEN_STEP_MM)
        return Change(most, told, lambda step: _with_press(job, n, smaller(step, narrower, lower)))

    yield from (change(*sides) for sides in ((True, False), (False, True), (True, True)))


def _less(length_mm: float, steps: int) -> float:
    """So many whole steps less, on whole steps."""
    return PLATEN_STEP_MM * (math.ceil(length_mm / PLATEN_STEP_MM) - steps)


def _with_piece(job: Job, changed: Piece) -> Job:
    return replace(job, pieces=tuple(changed if p.id == changed.id else p for p in job.pieces))


def _with_material(job: Job, material: Material, changed: Callable[[Material], Material]) -> Job:
    """The material is changed for its trimmed pieces too."""
    of_it = (changed(m) if _untrimmed(m.key) == material.key else m for m in job.materials)
    return replace(job, materials=tuple(of_it))


def _with_press(job: Job, n: int, changed: Press) -> Job:
    presses = (*job.presses[:n], changed, *job.presses[n + 1 :])
    return replace(job, press=presses[0], more_presses=presses[1:])
