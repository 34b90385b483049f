"""What the entries of a job file say of each other: names that must be known, pieces that lie on pieces."""

from collections.abc import Iterable, Sequence, Set
from difflib import get_close_matches

from models.job.crowding import MAX_CORNERS, are_crowded
from models.job.fault_list import FaultList
from models.job.job import ANY_MATERIAL, GarmentOrder, Material, Piece
from models.job.schema import NO_MATERIAL, NamedPressEntry
from models.job.sections import Sections
from models.job.si import Si
from models.job.stacking import stacked_among
from models.plain_text import is_one_line

SMALLEST_PLATEN_MM = 20
LARGEST_SIDE_MM = 5_000


def check_names(sections: Sections, faults: FaultList) -> None:
    """Every name stands for one thing, and every thing named is there."""
    _check_twins(((place, side.name) for place, side in sections.sides.items()), faults)
    named = sections.presses.items()
    _check_twins(
        ((place, press.name) for place, press in named if isinstance(press, NamedPressEntry)), faults
    )
    _check_twins(((place, piece.id) for place, piece in sections.pieces.items()), faults)
    for place, piece in sections.pieces.items():
        _check_known(f"{place} side", piece.side, sections.side_names, "side", faults)
        _check_known(f"{place} material", piece.material, sections.material_keys, "material", faults)
    for key, material in sections.materials.items():
        place = f"materials.{key}"
        if key in (ANY_MATERIAL, NO_MATERIAL) or not key.strip() or not is_one_line(key):
            faults.note(place, "is no name for a material", "choose another")
        if len(material.takes_on_top) > 1 and {ANY_MATERIAL, NO_MATERIAL} & set(material.takes_on_top):
            faults.note(
                f"{place}.takes_on_top", "names materials beside any or none", "write one or the other"
            )
        for name in sorted(material.names_on_top - {ANY_MATERIAL}):
            _check_known(f"{place}.takes_on_top", name, sections.material_keys, "material", faults)


def check_measures(sections: Sections, si: Si, faults: FaultList) -> None:
    """A platen too small or a side too large for any garment is a slip of the pen, or of the unit."""
    for place, press in sections.presses.items():
        if si.mm(min(press.platen)) < SMALLEST_PLATEN_MM:
            faults.note(f"{place}.platen", f"is smaller than {SMALLEST_PLATEN_MM} mm", "check its unit")
    for place, side in sections.sides.items():
        flats = [(f"{place} sizes[{n}].flat", entry.flat) for n, entry in enumerate(side.sizes, start=1)]
        for at, flat in ((f"{place} size", side.size), *flats):
            if flat is not None and si.mm(max(flat)) > LARGEST_SIDE_MM:
                faults.note(at, f"is larger than {LARGEST_SIDE_MM:,} mm", "check its unit")


def check_garment_sizes(sections: Sections, garments: Iterable[GarmentOrder], faults: FaultList) -> None:
    """A side is told of once for each garment size, and of no size that nobody wears."""
    worn = {garment.size for garment in garments}
    for place, side in sections.sides.items():
        named = [(f"{place} sizes[{n}]", entry.size) for n, entry in enumerate(side.sizes, start=1)]
        _check_twins(named, faults, "size", "tell of each size once")
        for at, size in named:
            _check_known(f"{at}.size", size, worn, "garment size", faults)


def check_stacking(pieces: Sequence[Piece], materials: Iterable[Material], faults: FaultList) -> None:
    """What may lie on what: the lower piece's material must take the upper one's."""
    if are_crowded(pieces):
        wrong = f"lie over each other in more than {MAX_CORNERS:,} corners"
        faults.note("pieces", wrong, "draw them with fewer points, or lay them apart")
        return
    by_key = {material.key: material for material in materials}
    of_piece = {piece.id: by_key.get(piece.material) for piece in pieces}
    for upper, lower in stacked_among(pieces):
        above, below = of_piece[upper], of_piece[lower]
        if above is not None and below is not None and not below.takes(above):
            faults.note(
                f'pieces "{upper}" and "{lower}"',
                f"{upper} lies on {lower}, and {below.key} takes no {above.key} on top",
                "move one of them, or put them in the other order",
            )


def _check_twins(
    named: Iterable[tuple[str, str]],
    faults: FaultList,
    what: str = "name",
    mend: str = "give it a name of its own",
) -> None:
    first: dict[str, str] = {}
    for place, name in named:
        if name in first:
            faults.note(place, f"has the {what} of {first[name]}", mend)
        first.setdefault(name, place)


def _check_known(place: str, name: str, known: Set[str], kind: str, faults: FaultList) -> None:
    if known and name not in known:  # where none is known, the whole section was told of
        near = get_close_matches(name, known, n=1)
        mend = (
            f'did you mean "{near[0]}"?' if near else f"add it, or write one of: {', '.join(sorted(known))}"
        )
        faults.note(place, f'no {kind} is named "{name}"', mend)
