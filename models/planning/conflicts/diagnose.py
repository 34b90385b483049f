"""Why a side has no sound sequence: which pieces clash, and what would free them."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from models.errors import NoSequenceExistsError, NoSequenceFoundError
from models.job.job import Material, ZoneKind
from models.job.outlines import to_shapely
from models.planning.conflicts.smallest_change import clashing_pieces
from models.planning.conflicts.suggestions import Clash, clash_of, told_of
from models.planning.conflicts.trials import Stopped
from models.planning.problem.bitset import members
from models.planning.problem.patterns import Way
from models.planning.problem.side import SideWork
from models.text import in_a_row

if TYPE_CHECKING:
    from models.planning.cpsat.infeasible_subset import Overheated
    from models.planning.cpsat.solver import Halt


def refuse_clashes(works: Sequence[SideWork], is_stopped: Stopped) -> None:
    """Raises NoSequenceExistsError where some pieces, whatever else is on their side, leave no way."""
    clashes = [clash for work in works for clash in _clashes(work)]
    if clashes:
        raise NoSequenceExistsError(told_of(works[0].job, clashes, is_stopped))


def refuse_impossible(work: SideWork, ways: Sequence[Way], halt: "Halt") -> None:
    """Raises NoSequenceExistsError where it is proved that no number of hits works some of the pieces."""
    from models.planning.cpsat.infeasible_subset import never_together, overheated  # noqa: PLC0415 - loads the solver

    _refuse_never_counted(work, ways, lambda: halt.is_asked)
    stuck = never_together(work, halt)
    if stuck is not None:
        words = f"{_never(stuck, overheated(stuck, halt))}, in however many hits"
        clash = clash_of(stuck, range(len(stuck.pieces)), words)
        raise NoSequenceExistsError(told_of(work.job, [clash], lambda: halt.is_asked))


def _refuse_never_counted(work: SideWork, ways: Sequence[Way], is_stopped: Stopped) -> None:
    counted = 0
    for way in ways:
        counted |= way.counted
    never = list(dict.fromkeys(work.parts[k].piece for k in members(work.every_part & ~counted)))
    if never:
        clashes = [clash_of(work, [piece], _never_counted(work, piece)) for piece in never]
        raise NoSequenceExistsError(told_of(work.job, clashes, is_stopped))


def not_found(work: SideWork, is_stopped: Stopped) -> NoSequenceFoundError:
    """Which pieces stand in the way, and what would free them, as far as it was found by trying."""
    pieces = clashing_pieces(work, is_stopped)
    unproved = "and it is not proved that there is none"
    if is_stopped():
        stopped = "no sound sequence was found before planning was stopped"
        return NoSequenceFoundError(f"{work.side.name}: {stopped}, {unproved}")
    names = in_a_row(work.pieces[piece].label for piece in pieces)
    stand_in_the_way = "stand in each other's way most" if len(pieces) > 1 else "is in the way most"
    words = f"{work.side.name}: no sound sequence was found, {unproved}; {names} {stand_in_the_way}"
    return NoSequenceFoundError(told_of(work.job, [clash_of(work, pieces, words)], is_stopped))


def _clashes(work: SideWork) -> Iterator[Clash]:
    order = work.order
    for pair in order.forbidden_stacks():
        yield clash_of(work, pair, _forbidden_stack(work, *pair))
    for pair in order.deadlocks():
        yield clash_of(work, pair, _carriers_clash(work, *pair))
    circle = order.circle()
    if circle:
        yield clash_of(work, circle, _circle(work, circle))
    for piece, material in enumerate(work.materials):
        if _wants_at_once_s(work, material) > material.longest_s:
            yield clash_of(work, [piece], _bears_too_little_at_once(work, piece))
        elif _wants_s(work, material) > material.total_s:
            yield clash_of(work, [piece], _bears_too_little(work, piece))


def _never(stuck: SideWork, overheated: "Overheated | None") -> str:
    labels = [piece.label for piece in stuck.pieces]
    if overheated is None:
        together = "pressed together" if len(labels) > 1 else "pressed"
        return f"{stuck.side.name}: {in_a_row(labels)} can never be {together}"
    piece, bears_s = labels.pop(overheated.piece), stuck.materials[overheated.piece].total_s
    beside = f"with {in_a_row(labels)} over it or beside it, " if labels else ""
    return f"{piece} bears {bears_s} s in all, and {beside}it gets {overheated.least_s} s at least"


def _forbidden_stack(work: SideWork, upper: int, lower: int) -> str:
    top, base = work.pieces[upper].label, work.pieces[lower].label
    material, below = work.materials[upper].label, work.materials[lower].label
    return f"{top} lies on {base}, and {below} does not take {material} on top"


def _carriers_clash(work: SideWork, piece: int, other: int) -> str:
    """Two carriers, each on the other piece."""
    labels = work.pieces[piece].label, work.pieces[other].label
    return (
        f"{labels[0]} and {labels[1]} clash: whichever is laid second brings a carrier that lies on the "
        f"first, which takes none (the gap is {_gap_mm(work, piece, other):.1f} mm)"
    )


def _gap_mm(work: SideWork, piece: int, other: int) -> float:
    """Rounded down: a carrier trimmed to it stays clear."""
    gap_mm = to_shapely(work.pieces[piece].outline).distance(to_shapely(work.pieces[other].outline))
    return int(float(gap_mm) * 10) / 10


def _circle(work: SideWork, circle: Sequence[int]) -> str:
    """Each waits for the next."""
    labels = [work.pieces[piece].label for piece in circle]
    waits = ", ".join(f"{a} waits for {b}" for a, b in zip(labels, [*labels[1:], labels[0]], strict=True))
    return f"{waits}, in a circle"


def _wants_s(work: SideWork, material: Material) -> int:
    """The least that each part of it gets in all."""
    wanted = (material.least_s, material.finish_s)
    return sum(max(s, work.shortest_s) for s in wanted if s)


def _bears_too_little(work: SideWork, piece: int) -> str:
    label, material = work.pieces[piece].label, work.materials[piece]
    return (
        f"{label}: {material.label} wants {_wants_s(work, material)} s in all and bears {material.total_s} s"
    )


def _wants_at_once_s(work: SideWork, material: Material) -> int:
    """The longest single closing that it cannot do without."""
    return max(work.shortest_s, material.finish_s, material.first_s)


def _bears_too_little_at_once(work: SideWork, piece: int) -> str:
    label, material = work.pieces[piece].label, work.materials[piece]
    wanted_s, bears = _wants_at_once_s(work, material), f"bears {material.longest_s} s at once"
    if wanted_s == work.shortest_s:
        return f"{label}: a closing lasts {wanted_s} s at least, and {material.label} {bears}"
    return f"{label}: {material.label} wants a closing of {wanted_s} s and {bears}"


def _never_counted(work: SideWork, piece: int) -> str:
    """Why no hit counts for some part of the piece: its heat, or where a platen can come down."""
    return _too_hot_or_cold(work, piece) or _never_held(work, piece)


def _too_hot_or_cold(work: SideWork, piece: int) -> str:
    label, material = work.pieces[piece].label, work.materials[piece]
    coolest_c = min(press.lowest_c for press in work.job.presses)
    if material.lowest_c > work.job.hottest_c:
        return (
            f"{label} wants at least {material.lowest_c:g} °C, and {work.job.fabric.name} on this press "
            f"bears {work.job.hottest_c:g} °C"
        )
    if material.hottest_c < coolest_c:
        return f"{label} bears {material.hottest_c:g} °C, and a press is set to {coolest_c:g} °C at least"
    able = work.job.presses_for(work.pieces[piece])
    if all(press.hottest_c < material.lowest_c or material.hottest_c < press.lowest_c for press in able):
        return (
            f"{label} wants {material.lowest_c:g} to {material.hottest_c:g} °C, to which no press can be set"
        )
    return ""


def _never_held(work: SideWork, piece: int) -> str:
    label, presses, metal = work.pieces[piece].label, work.job.presses, work.side.zones_of(ZoneKind.KEEP_OUT)
    cannot = "the platen cannot hold it" if len(presses) == 1 else "no press that it suits can hold it"
    count = work.parts_of_piece[piece].bit_count()
    parts = f" in the {count} parts that it is worked in" if count > 1 else ""
    clear = f" without coming down on a keep-out of {work.side.name}" if metal else ""
    return f"{label}: {cannot}{parts}{clear}"
