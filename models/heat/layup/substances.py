"""What the layers under a press are made of: conductivity, density and specific heat, as ranges.

No maker is meant by any of them. A piece's substance follows from what the job file says of its material
alone: what was measured of it, and else whether it comes on a carrier, and how thick it is. Values marked
"from memory" have no source at hand; their ranges are wide on purpose.
"""

from dataclasses import dataclass

from models.job.job import Fabric, Material, Pressure, Thermal
from models.ranges import Range, exactly


@dataclass(frozen=True, slots=True)
class Substance:
    """Thermal properties of one kind of layer, and where they come from."""

    name: str
    conductivity_w_per_mk: Range
    density_kg_per_m3: Range
    heat_j_per_kgk: Range
    source: str


COVER_SHEET = Substance(
    "cover sheet",
    Range(0.23, 0.25, 0.28),
    Range(1900, 2100, 2200),
    Range(1000, 1050, 1200),
    "fluoropolymer 0.25-0.26 W/mK: Springer Handbook of Condensed Matter, Table 3.3-13; glass: from memory",
)
CARRIER = Substance(
    "carrier",
    Range(0.15, 0.20, 0.29),
    Range(1300, 1380, 1400),
    Range(1000, 1200, 1500),
    "polyester film: published lists 0.17-0.40, measured 0.19-0.29 W/mK",
)
ADHESIVE = Substance(
    "adhesive",
    Range(0.17, 0.20, 0.30),
    Range(1000, 1150, 1250),
    Range(1700, 1900, 2300),
    "between polyurethane (0.19, 1850) and ethylene-vinyl acetate (0.35, 2300), a laboratory's tables",
)
FILM = Substance(
    "film",
    Range(0.15, 0.19, 0.25),
    Range(1000, 1150, 1250),
    Range(1500, 1850, 1900),
    "polyurethane film in a polymer laboratory's tables; pigment and flakes: from memory",
)
TEXTILE = Substance(
    "twill",
    Range(0.07, 0.10, 0.14),
    Range(450, 550, 700),
    Range(1030, 1250, 1400),
    "polyester and cotton fibre pads 0.07-0.084, dense and pressed more: W. E. Morton and J. W. S. Hearle, "
    "Physical Properties of Textile Fibres, Table 6.1; density from memory",
)
FOAM = Substance(
    "foam",
    Range(0.06, 0.09, 0.13),
    Range(300, 450, 650),
    Range(1500, 1800, 1900),
    "foamed polymer, from memory",
)
SILICONE_FOAM = Substance(
    "silicone foam",
    Range(0.06, 0.08, 0.10),
    Range(200, 300, 500),
    Range(1200, 1300, 1400),
    "from memory; solid silicone sheet measures 0.224-0.249 W/mK",
)

FABRIC_CONDUCTIVITY = Range(0.06, 0.08, 0.12)
"""Cotton and polyester fibre pads 0.071-0.084 W/mK (Morton and Hearle, Table 6.1); the ends from memory."""
FABRIC_HEAT = Range(1100, 1300, 1500)
"""Dry fibres 1030 (polyester) to 1430 (polyamide), with regain up to 1500 J/kgK (Morton and Hearle)."""

COMPRESSED = 0.8
"""A fabric under the platen keeps about this much of its thickness (common practice, no source)."""
FOAM_FROM_MM = 0.45
"""A piece on a carrier that is this thick is taken for foam, a thinner one for film (common practice)."""

ADHESIVE_MM = Range(0.05, 0.08, 0.12)
CARRIER_MM = Range(0.05, 0.10, 0.15)
COVER_SHEET_MM = Range(0.08, 0.13, 0.25)
PAD_MM = Range(6, 8, 10)
"""Thicknesses that no job file states: common practice, no source."""

CONTACT_M2K_PER_W = {
    Pressure.LIGHT: Range(2e-4, 5e-4, 1.2e-3),
    Pressure.MEDIUM: Range(1e-4, 3e-4, 8e-4),
    Pressure.FIRM: Range(0.5e-4, 2e-4, 6e-4),
}
"""Where two layers meet: an air gap of some 5 to 20 micrometres; from memory, no source."""


def body_of(material: Material) -> Substance:
    """What a piece is made of, as far as its job file tells: by its kind, but for what was measured."""
    kind = _kind_of(material)
    measured = material.thermal
    if measured == Thermal():
        return kind
    return Substance(
        kind.name,
        _measured(measured.conductivity_w_per_mk, kind.conductivity_w_per_mk),
        _measured(measured.density_kg_per_m3, kind.density_kg_per_m3),
        _measured(measured.heat_j_per_kgk, kind.heat_j_per_kgk),
        f"measured, from the job file; what is not: {kind.source}",
    )


def _kind_of(material: Material) -> Substance:
    if not material.carrier:
        return TEXTILE
    return FOAM if material.thickness_mm >= FOAM_FROM_MM else FILM


def _measured(value: float | None, otherwise: Range) -> Range:
    return otherwise if value is None else exactly(value)


def cloth_of(fabric: Fabric) -> Substance:
    """The fabric under the platen, with the job's own weight and thickness."""
    pressed_m = fabric.thickness_mm * COMPRESSED / 1000
    density = fabric.grams_per_m2 / 1000 / pressed_m
    return Substance(
        fabric.name,
        FABRIC_CONDUCTIVITY,
        Range(density, density, density),
        FABRIC_HEAT,
        "weight and thickness from the job file; Morton and Hearle, Table 6.1",
    )
