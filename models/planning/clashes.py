"""Why a side has no sound sequence: which pieces clash, and what would free them."""

from collections.abc import Sequence

from models.errors import NoSoundSequenceError
from models.planning.bits import members
from models.planning.candidates import Way
from models.planning.side_work import SideWork


def refuse_clashes(work: SideWork) -> None:
    """Raises NoSoundSequenceError where two pieces of the side, by themselves, leave no way."""
    for upper, lower in work.order.forbidden_stacks():
        raise NoSoundSequenceError(_forbidden_stack(work, upper, lower))
    for piece, other in work.order.clashes():
        raise NoSoundSequenceError(_carriers_clash(work, piece, other))


def why_stuck(work: SideWork, ways: Sequence[Way]) -> str:
    """The reason why the pieces together leave no way, as far as it was found."""
    counted = 0
    for way in ways:
        counted |= way.counted
    for k in members(work.every_part & ~counted):
        return _never_counted(work, k)
    return f"{work.side.name}: no sound sequence was found for its pieces together"


def _forbidden_stack(work: SideWork, upper: int, lower: int) -> str:
    top, base = work.pieces[upper].label, work.pieces[lower].label
    material, below = work.materials[upper].label, work.materials[lower].label
    return (
        f"{top} lies on {base}, and {below} does not take {material} on top; "
        f"move one of them, or choose another material for {base}"
    )


def _carriers_clash(work: SideWork, piece: int, other: int) -> str:
    one, two = work.pieces[piece].label, work.pieces[other].label
    return (
        f"{one} and {two} clash: whichever is laid second brings a carrier that lies on the first, "
        f"which takes none; trim a carrier, or move the two apart"
    )


def _never_counted(work: SideWork, part: int) -> str:
    piece, material = work.pieces[work.parts[part].piece].label, work.parts[part].material
    if material.lowest_c > work.hottest_c:
        return (
            f"{piece} wants at least {material.lowest_c:g} °C, and {work.job.fabric.name} on this press "
            f"bears {work.hottest_c:g} °C; choose another material for it"
        )
    return (
        f"{piece}: the platen cannot hold it without coming down on a keep-out of {work.side.name}; "
        f"move it, or take a smaller platen"
    )
