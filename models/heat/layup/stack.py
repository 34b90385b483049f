"""What lies between the platen and the table where one piece is pressed, top to bottom."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from models.heat.layup.substances import (
    ADHESIVE,
    ADHESIVE_MM,
    CARRIER,
    CARRIER_MM,
    COMPRESSED,
    CONTACT_M2K_PER_W,
    COVER_SHEET,
    COVER_SHEET_MM,
    PAD_MM,
    SILICONE_FOAM,
    Substance,
    body_of,
    cloth_of,
)
from models.heat.physics.conduction import Layer
from models.job.job import Fabric, Material, Pressure
from models.ranges import Case, Range, exactly

ROOM_C = 22.0
LOWER_PAD_C = Range(25, 45, 70)
"""The pad of the lower platen keeps some heat from the closings before (from memory)."""
SEAM_PLIES = 2
"""Plies that a seam lays under the outer one (common practice, no source)."""

GROWN_TOGETHER = exactly(0.0)
"""No gap between a film and what it was made on."""


class Role(StrEnum):
    COVER = "cover sheet"
    CARRIER = "carrier"
    BODY = "piece"
    ADHESIVE = "adhesive"
    CLOTH = "fabric"
    PAD = "pad"


@dataclass(frozen=True, slots=True)
class Sheet:
    """One layer of a stack, known within its ranges; `material` is empty where it is no piece's."""

    role: Role
    substance: Substance
    thickness_mm: Range
    start_c: Range
    contact_m2k_per_w: Range
    material: str = ""

    def layer(self, haste: float, *, above: bool) -> Layer:
        """As one case has it. Above the adhesive what leads heat hastens it, below what does not."""
        lead = haste if above else -haste
        of = self.substance
        heat = of.density_kg_per_m3.at(-haste) * of.heat_j_per_kgk.at(-haste)
        return Layer(
            self.substance.name,
            self.thickness_mm.at(-lead) / 1000,
            of.conductivity_w_per_mk.at(lead),
            heat,
            self.start_c.at(haste),
            self.contact_m2k_per_w.at(-lead),
        )


@dataclass(frozen=True, slots=True)
class Ground:
    """What lies over and under a piece at one spot besides itself."""

    cover_sheets: int = 0
    carrier: bool = False
    seam: bool = False
    pad: bool = False


PLAIN = Ground()


@dataclass(frozen=True, slots=True)
class Stack:
    """The sheets from the platen down. `adhesive` is the place of the line that has to get hot."""

    platen_c: float
    sheets: tuple[Sheet, ...]
    adhesive: int

    def layers(self, case: Case) -> tuple[Layer, ...]:
        return tuple(
            sheet.layer(case.value, above=place <= self.adhesive) for place, sheet in enumerate(self.sheets)
        )

    @property
    def cloth(self) -> int:
        """The place of the lowest ply of fabric."""
        return max(place for place, sheet in enumerate(self.sheets) if sheet.role == Role.CLOTH)

    @property
    def garment(self) -> range:
        """The places of all that leaves the press with the garment."""
        first = next(place for place, sheet in enumerate(self.sheets) if sheet.role != Role.COVER)
        return range(first, self.cloth + 1)


def stack_of(
    fabric: Fabric,
    material: Material,
    platen_c: float,
    pressure: Pressure,
    *,
    ground: Ground = PLAIN,
    below: tuple[Material, ...] = (),
) -> Stack:
    """The stack of a piece of `material`, with the pieces `below` it, the upper one first."""
    contact = CONTACT_M2K_PER_W[pressure]
    covers = (_sheet(Role.COVER, COVER_SHEET, COVER_SHEET_MM, contact) for _ in range(ground.cover_sheets))
    upper = (*covers, *_piece_sheets(material, contact, with_carrier=ground.carrier))
    pieces = (sheet for other in below for sheet in _piece_sheets(other, contact, with_carrier=False))
    garment = _garment_sheets(fabric, contact, ground)
    return Stack(platen_c, (*upper, *pieces, *garment), adhesive=len(upper) - 1)


def _piece_sheets(material: Material, contact: Range, *, with_carrier: bool) -> Iterator[Sheet]:
    """Body and adhesive share the thickness that the job states; at most a third of it is adhesive."""
    adhesive_mm = min(ADHESIVE_MM.likely, material.thickness_mm / 3)
    body_mm = exactly(material.thickness_mm - adhesive_mm)
    line_mm = ADHESIVE_MM.scaled(adhesive_mm / ADHESIVE_MM.likely)
    if with_carrier:
        yield _sheet(Role.CARRIER, CARRIER, CARRIER_MM, contact)
    over_body = GROWN_TOGETHER if with_carrier else contact
    yield _sheet(Role.BODY, body_of(material), body_mm, over_body, material.key)
    yield _sheet(Role.ADHESIVE, ADHESIVE, line_mm, GROWN_TOGETHER, material.key)


def _garment_sheets(fabric: Fabric, contact: Range, ground: Ground) -> Iterator[Sheet]:
    cloth = _sheet(Role.CLOTH, cloth_of(fabric), exactly(fabric.thickness_mm * COMPRESSED), contact)
    yield from (cloth for _ in range(1 + SEAM_PLIES * ground.seam))
    if ground.pad:
        yield _sheet(Role.PAD, SILICONE_FOAM, PAD_MM, contact)
    yield Sheet(Role.PAD, SILICONE_FOAM, PAD_MM, LOWER_PAD_C, contact)


def _sheet(role: Role, substance: Substance, thickness: Range, contact: Range, material: str = "") -> Sheet:
    return Sheet(role, substance, thickness, exactly(ROOM_C), contact, material)
