"""Reads a job file, format 1, with the roster and the drawings that it names: a whole job, or its faults.

Beyond the keys of format 1 an entry may say more for the eye: `label` of a piece (else its id, dashes as
spaces), and `outline` of a side, a shape like a piece's that lies with its middle in the side's middle.
A side may also say, in `sizes`, what it is like in single garment sizes.
"""

from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from models.job.cross_checks import check_garment_sizes, check_measures, check_names, check_stacking
from models.job.drawings import Drawings
from models.job.fault_list import FaultList, UnreadableError
from models.job.files import path_inside, read_bytes
from models.job.job import GarmentOrder, Job
from models.job.job_text import Tables, read_tables
from models.job.placing import Placing
from models.job.roster import MAX_GARMENTS, garments_in
from models.job.schema import GarmentsEntry
from models.job.sections import read_sections
from models.job.si import Si

T = TypeVar("T")


def _unheard(_remark: str) -> None:
    """Nobody asks."""


def read_job(path: Path, told: Callable[[str], None] = _unheard) -> Job:
    """The job in mm, °C and whole seconds, every outline placed on its side.

    `told` hears what a person should know though nothing is refused for it, like columns that were left out.

    Raises:
        JobRefusedError: with every fault of the file, its roster and its drawings, each with its place.
    """
    faults = FaultList(path.name)
    sections = read_sections(_tables(path, faults), faults)
    check_names(sections, faults)
    garments = _garments(sections.garments, path.parent, faults)
    check_garment_sizes(sections, garments, faults)
    if sections.units is None:  # then no length can be judged
        faults.refuse_if_any()
    si = Si(_there(sections.units))
    check_measures(sections, si, faults)
    materials = tuple(si.material(key, entry) for key, entry in sections.materials.items())
    placing = Placing(si, Drawings(path.parent, faults), faults)
    sides = placing.sides(sections.sides)
    pieces = placing.pieces(sections.pieces, sides)
    check_stacking(pieces, materials, faults)
    faults.refuse_if_any()
    for remark in faults.remarks:
        told(remark)
    head = _there(sections.head)
    press, *more_presses = (si.press(entry) for entry in sections.presses.values())
    return Job(
        name=head.name,
        reference=head.reference,
        due=head.due,
        press=press,
        fabric=si.fabric(_there(sections.fabric)),
        sides=sides,
        materials=materials,
        pieces=pieces,
        garments=garments,
        more_presses=tuple(more_presses),
    )


def _tables(path: Path, faults: FaultList) -> Tables:
    try:
        return read_tables(path)
    except UnreadableError as error:
        faults.note(error.place, error.wrong, error.mend)
        raise faults.refusal() from None


def _garments(entry: GarmentsEntry | None, folder: Path, faults: FaultList) -> tuple[GarmentOrder, ...]:
    if entry is None:
        return ()
    if entry.roster is not None:
        return _from_roster(entry.roster, folder, faults)
    return _by_sizes(entry.sizes or {}, faults)


def _from_roster(written: str, folder: Path, faults: FaultList) -> tuple[GarmentOrder, ...]:
    try:
        content = read_bytes(path_inside(folder, written))
    except UnreadableError as error:
        faults.note("garments.roster", f"{written} {error.wrong}", error.mend)
        return ()
    roster_faults = FaultList(written)
    garments = garments_in(content, roster_faults)
    faults.take(roster_faults)
    return garments


def _by_sizes(sizes: dict[str, int], faults: FaultList) -> tuple[GarmentOrder, ...]:
    if sum(sizes.values()) > MAX_GARMENTS:
        faults.note("garments.sizes", f"make more than {MAX_GARMENTS:,} garments", "split the batch")
        return ()
    wanted = [size for size, count in sizes.items() for _ in range(count)]
    return tuple(GarmentOrder(n, size) for n, size in enumerate(wanted, start=1))


def _there(entry: T | None) -> T:
    """An entry that is missing was told as a fault before."""
    assert entry is not None
    return entry
