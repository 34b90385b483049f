"""The job as the planner and the floor see it: mm, °C, whole seconds, every outline placed on its side."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from models.geometry import Box, Outline, Point


class Pressure(StrEnum):
    LIGHT = "light"
    MEDIUM = "medium"
    FIRM = "firm"


class Peel(StrEnum):
    HOT = "hot"
    WARM = "warm"
    COLD = "cold"
    NONE = "none"  # no carrier to peel


class ZoneKind(StrEnum):
    KEEP_OUT = "keep-out"  # metal: the platen may not come down on it
    RAISED = "raised"  # a seam or pocket: a pad goes in


ANY_MATERIAL = "any"


@dataclass(frozen=True, slots=True)
class Press:
    """A heat press: the platen area that presses evenly, what it can be set to, and what it takes in time.

    It has a name where the shop has several.
    """

    platen_width_mm: float
    platen_height_mm: float
    lowest_c: float
    hottest_c: float
    handling_s: float
    shortest_s: int
    heating_s_per_degree: float
    cooling_s_per_degree: float
    name: str = ""


@dataclass(frozen=True, slots=True)
class Fabric:
    name: str
    hottest_c: float
    grams_per_m2: float
    thickness_mm: float


@dataclass(frozen=True, slots=True)
class Zone:
    kind: ZoneKind
    box: Box
    label: str


@dataclass(frozen=True, slots=True)
class SideInSize:
    """A side as it lies flat in one garment size; `shift_mm` moves all its pieces, by whole mm."""

    size: str
    width_mm: float
    height_mm: float
    zones: tuple[Zone, ...]
    shift_mm: Point


@dataclass(frozen=True, slots=True)
class Side:
    """One flat lay of the garment; `outline`, where the job draws one, is for the eye only.

    `sizes` are the garment sizes in which the side is another; in all others it is as it stands here.
    """

    name: str
    width_mm: float
    height_mm: float
    zones: tuple[Zone, ...] = ()
    outline: Outline | None = None
    sizes: tuple[SideInSize, ...] = ()

    def zones_of(self, kind: ZoneKind) -> tuple[Zone, ...]:
        return tuple(zone for zone in self.zones if zone.kind == kind)


@dataclass(frozen=True, slots=True)
class Thermal:
    """What was measured of a material at a press's heat; None where it was not."""

    conductivity_w_per_mk: float | None = None
    density_kg_per_m3: float | None = None
    heat_j_per_kgk: float | None = None


@dataclass(frozen=True, slots=True)
class Material:
    """What a material wants of a press. `finish_s` is 0 where no second press after the peel is wanted.

    The hit that a piece is laid for lasts `first_s` at the least, so that it holds from then on.
    """

    key: str
    label: str
    set_c: float
    lowest_c: float
    hottest_c: float
    least_s: int
    longest_s: int
    total_s: int
    finish_s: int
    pressures: tuple[Pressure, ...]
    peel: Peel
    carrier: bool
    carrier_margin_mm: float
    takes_on_top: frozenset[str]
    guard: bool
    cover: bool
    carrier_safe: bool
    thickness_mm: float
    first_s: int = 0
    thermal: Thermal = Thermal()

    def takes(self, other: "Material") -> bool:
        """Whether a piece of `other` may lie on one of this material."""
        return ANY_MATERIAL in self.takes_on_top or other.key in self.takes_on_top


@dataclass(frozen=True, slots=True)
class Piece:
    """One transfer, already turned and placed: its outline lies in the side's own coordinates."""

    id: str
    label: str
    side: str
    material: str
    outline: Outline

    @property
    def box(self) -> Box:
        return self.outline.box


@dataclass(frozen=True, slots=True)
class GarmentOrder:
    """One garment asked for; `wearer` and `number` are empty where the roster names none."""

    n: int
    size: str
    wearer: str = ""
    number: str = ""


@dataclass(frozen=True, slots=True)
class Job:
    """Everything a batch is made from. Pieces stand in file order, which decides what is stacked on what."""

    name: str
    reference: str
    due: date | None
    press: Press
    fabric: Fabric
    sides: tuple[Side, ...]
    materials: tuple[Material, ...]
    pieces: tuple[Piece, ...]
    garments: tuple[GarmentOrder, ...]
    more_presses: tuple[Press, ...] = ()

    @property
    def presses(self) -> tuple[Press, ...]:
        """All of them, in the order of the file."""
        return (self.press, *self.more_presses)

    @property
    def shortest_s(self) -> int:
        """A shorter closing heats nothing: with several presses, on none of them."""
        return max(press.shortest_s for press in self.presses)

    @property
    def hottest_c(self) -> float:
        """The hottest that any press may be set to for this fabric."""
        return min(self.fabric.hottest_c, max(press.hottest_c for press in self.presses))

    def presses_for(self, piece: Piece) -> tuple[Press, ...]:
        """Those that can be set to what the piece's material wants; all of them where none can."""
        if not self.more_presses:
            return self.presses
        material = self.material(piece.material)
        hottest_c = min(material.hottest_c, self.fabric.hottest_c)
        able = (p for p in self.presses if p.lowest_c <= hottest_c and material.lowest_c <= p.hottest_c)
        return tuple(able) or self.presses

    def press_named(self, name: str) -> Press:
        return next(press for press in self.presses if press.name == name)

    def side(self, name: str) -> Side:
        return next(side for side in self.sides if side.name == name)

    def material(self, key: str) -> Material:
        return next(material for material in self.materials if material.key == key)

    def piece(self, piece_id: str) -> Piece:
        return next(piece for piece in self.pieces if piece.id == piece_id)

    def material_of(self, piece_id: str) -> Material:
        return self.material(self.piece(piece_id).material)
