"""Why a side has no sound sequence: which pieces clash, and what would free them."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from models.errors import NoSequenceExistsError, NoSequenceFoundError, NoSoundSequenceError
from models.job.outlines import to_shapely
from models.planning.bits import members
from models.planning.candidates import Way
from models.planning.mends import clashing_pieces, mends
from models.planning.side_work import Part, SideWork

if TYPE_CHECKING:
    from models.planning.halting import Halt
    from models.planning.never import Overheated


def refuse_clashes(work: SideWork) -> None:
    """Raises NoSequenceExistsError where some pieces, whatever else is on the side, leave no way."""
    for told in _clashes(work):
        raise NoSequenceExistsError(told)


def refuse_impossible(work: SideWork, halt: "Halt") -> None:
    """Raises NoSequenceExistsError where it is proved that no number of hits works some of the pieces."""
    from models.planning.never import never_together, overheated  # noqa: PLC0415 - loads the solver

    stuck = never_together(work, halt)
    if stuck is not None:
        tried = _freed_by(stuck, range(len(stuck.pieces)))
        never = _never(stuck, overheated(stuck, halt))
        raise NoSequenceExistsError(f"{never}, in however many hits; {tried}")


def why_none(work: SideWork, ways: Sequence[Way]) -> NoSoundSequenceError:
    """Why the pieces together leave no way, and what would, as far as it was found by trying."""
    counted = 0
    for way in ways:
        counted |= way.counted
    for k in members(work.every_part & ~counted):
        return NoSequenceExistsError(_never_counted(work, work.parts[k]))
    return NoSequenceFoundError(_not_found(work))


def _not_found(work: SideWork) -> str:
    pieces = clashing_pieces(work)
    names = ", ".join(work.pieces[piece].label for piece in pieces)
    tried = _freed_by(work, pieces)
    return (
        f"{work.side.name}: no sound sequence was found, and it is not proved that there is none; "
        f"{names} stand in each other's way most; {tried}"
    )


def _freed_by(work: SideWork, pieces: Sequence[int]) -> str:
    return "; or ".join(mends(work, pieces)) or "move some of them apart"


def _clashes(work: SideWork) -> Iterator[str]:
    yield from (_forbidden_stack(work, *pair) for pair in work.order.forbidden_stacks())
    yield from (_carriers_clash(work, *pair) for pair in work.order.clashes())
    circle = work.order.circle()
    if circle:
        yield _circle(work, circle)
    for part in work.parts:
        if _wants_s(work, part) > part.material.total_s:
            yield _bears_too_little(work, part)


def _never(stuck: SideWork, overheated: "Overheated | None") -> str:
    labels = [piece.label for piece in stuck.pieces]
    if overheated is None:
        return f"{stuck.side.name}: {', '.join(labels)} can never be pressed together"
    piece, bears_s = labels.pop(overheated.piece), stuck.materials[overheated.piece].total_s
    return (
        f"{piece} bears {bears_s} s in all, and with {', '.join(labels)} over it or beside it, it gets "
        f"{overheated.least_s} s at least"
    )


def _forbidden_stack(work: SideWork, upper: int, lower: int) -> str:
    top, base = work.pieces[upper].label, work.pieces[lower].label
    material, below = work.materials[upper].label, work.materials[lower].label
    return (
        f"{top} lies on {base}, and {below} does not take {material} on top; "
        f"move one of them, or choose another material for {base}"
    )


def _carriers_clash(work: SideWork, piece: int, other: int) -> str:
    """Two carriers, each on the other piece: a gap as wide as the narrower margin would free them."""
    labels = work.pieces[piece].label, work.pieces[other].label
    gap_mm = _gap_mm(work, piece, other)
    wanted_mm = min(work.materials[piece].carrier_margin_mm, work.materials[other].carrier_margin_mm)
    trimmed = (
        f"trim the carrier of {labels[0]} or of {labels[1]} to {gap_mm:.1f} mm there; or " if gap_mm else ""
    )
    return (
        f"{labels[0]} and {labels[1]} clash: whichever is laid second brings a carrier that lies on the "
        f"first, which takes none; {trimmed}move them {wanted_mm:g} mm apart (now {gap_mm:.1f} mm)"
    )


def _gap_mm(work: SideWork, piece: int, other: int) -> float:
    """Rounded down: a carrier trimmed to it stays clear."""
    gap_mm = to_shapely(work.pieces[piece].outline).distance(to_shapely(work.pieces[other].outline))
    return int(float(gap_mm) * 10) / 10


def _circle(work: SideWork, circle: Sequence[int]) -> str:
    """Each waits for the next; a carrier trimmed, or a stack undone, breaks the circle."""
    labels = [work.pieces[piece].label for piece in circle]
    waits = ", ".join(f"{a} waits for {b}" for a, b in zip(labels, [*labels[1:], labels[0]], strict=True))
    waited = zip(circle, [*circle[1:], circle[0]], strict=True)
    trims = [
        f"trim the carrier of {work.pieces[first].label} where it lies on {work.pieces[piece].label}"
        for piece, first in waited
        if (piece, first) not in work.order.stacked
    ]
    return f"{waits}, in a circle; {'; or '.join(trims) or 'undo one of the stacks'}"


def _wants_s(work: SideWork, part: Part) -> int:
    """The least that the part gets in all."""
    shortest_s = work.shortest_s
    wanted = (part.material.least_s, part.material.finish_s)
    return sum(max(s, shortest_s) for s in wanted if s)


def _bears_too_little(work: SideWork, part: Part) -> str:
    piece, material = work.pieces[part.piece].label, part.material
    return (
        f"{piece}: {material.label} wants {_wants_s(work, part)} s in all and bears {material.total_s} s; "
        f"check the seconds of {material.label}"
    )


def _never_counted(work: SideWork, part: Part) -> str:
    piece, material, presses = work.pieces[part.piece].label, part.material, work.job.presses
    coolest_c = min(press.lowest_c for press in presses)
    if material.lowest_c > work.job.hottest_c:
        return (
            f"{piece} wants at least {material.lowest_c:g} °C, and {work.job.fabric.name} on this press "
            f"bears {work.job.hottest_c:g} °C; choose another material for it"
        )
    if material.hottest_c < coolest_c:
        return (
            f"{piece} bears {material.hottest_c:g} °C, and a press is set to {coolest_c:g} °C at least; "
            f"choose another material for it"
        )
    cannot = "the platen cannot hold it" if len(presses) == 1 else "no press that it suits can hold it"
    return (
        f"{piece}: {cannot} without coming down on a keep-out of {work.side.name}; "
        f"{_freed_by(work, [part.piece])}"
    )
