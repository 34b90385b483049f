"""The shape of a job file, format 1: its keys, their types, and what can be judged within one entry.

Numbers stand as the file writes them, in the file's units. A key that is not named here is refused; keys
with a default may be left out.
"""

import re
from datetime import date, datetime
from typing import Annotated, Any, Literal, Self

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    Strict,
    StringConstraints,
    model_validator,
)
from pydantic_core import PydanticCustomError

from models.job.job import Peel, Pressure, ZoneKind
from models.plain_text import composed, is_one_line

NO_MATERIAL = "none"
SHAPE_FORMS = ("circle", "box", "polygon", "svg")
MAX_PIECES = 500
MAX_MATERIALS = 200
MAX_PRESSES = 10
MAX_SIDES = 50
MAX_ZONES = 200
MAX_SIZES = 50
MAX_POINTS = 10_000


def fault(wrong: str, mend: str) -> PydanticCustomError:
    """An entry that contradicts itself, in the words the person reads."""
    return PydanticCustomError("contradiction", "{wrong}", {"wrong": wrong, "mend": mend})


def _one_line(text: str) -> str:
    if not text or not is_one_line(text):
        raise fault("must be one line of text", "write it in quotes, without line breaks or tabs")
    return text


def _fit_for_a_file_name(text: str) -> str:
    """Reports are named after the job."""
    if not re.fullmatch(r"\w([\w .-]*\w)?", text):
        raise fault("has signs that a file name cannot have", "write letters, digits, dashes and points only")
    return text


def _day(value: Any) -> date:
    """A TOML date, or a text like "2026-12-11", which is all that JSON has."""
    if isinstance(value, date) and not isinstance(value, datetime):
        return value
    try:
        return datetime.strptime(value, "%Y-%m-%d").date()  # noqa: DTZ007  # a day has no zone
    except (TypeError, ValueError):
        raise fault("is not a day of the calendar", "write year-month-day, like 2026-12-11") from None


def _as_list(value: Any) -> Any:
    """One name may stand for a list of one."""
    return [value] if isinstance(value, str) else value


def _three_or_more(points: list[tuple[float, float]]) -> list[tuple[float, float]]:
    if len(points) < 3:
        raise fault("has fewer than three points", "give every corner as [x, y]")
    return points


def _upright(window: tuple[float, float]) -> tuple[float, float]:
    if window[0] > window[1]:
        raise fault("the window is upside down", "write [lowest, hottest]")
    return window


Text = Annotated[str, StringConstraints(strip_whitespace=True, max_length=200), AfterValidator(_one_line)]
Name = Annotated[str, StringConstraints(strip_whitespace=True, max_length=60), AfterValidator(_one_line)]
Size = Annotated[Name, AfterValidator(composed)]
Reference = Annotated[Name, StringConstraints(max_length=40), AfterValidator(_fit_for_a_file_name)]
Day = Annotated[date, BeforeValidator(_day)]
Measure = Annotated[float, Field(ge=-10_000, le=10_000)]
Positive = Annotated[float, Field(gt=0, le=10_000)]
NotNegative = Annotated[float, Field(ge=0, le=10_000)]
Seconds = Annotated[int, Field(ge=1, le=3600)]
Pair = Annotated[tuple[Positive, Positive], Strict(False)]
Point = Annotated[tuple[Measure, Measure], Strict(False)]


class Entry(BaseModel):
    """One table of the file."""

    model_config = ConfigDict(strict=True, extra="forbid", frozen=True, allow_inf_nan=False)


class JobFile(Entry):
    """The sections; what is in them is read one by one, so that a fault in one hides none in another."""

    format: Literal[1]
    units: dict[str, Any] = {}
    job: dict[str, Any]
    press: dict[str, Any] | None = None
    presses: Annotated[list[Any], Field(min_length=1, max_length=MAX_PRESSES)] | None = None
    fabric: dict[str, Any]
    sides: Annotated[list[Any], Field(min_length=1, max_length=MAX_SIDES)]
    materials: Annotated[dict[str, Any], Field(min_length=1, max_length=MAX_MATERIALS)]
    pieces: Annotated[list[Any], Field(min_length=1, max_length=MAX_PIECES)]
    garments: dict[str, Any]


class UnitsEntry(Entry):
    length: Literal["mm", "in"] = "mm"
    temperature: Literal["C", "F"] = "C"


class HeadEntry(Entry):
    """The table [job]."""

    name: Text
    reference: Reference
    due: Day | None = None


class PressEntry(Entry):
    platen: Pair
    temperature: Annotated[tuple[Measure, Measure], Strict(False), AfterValidator(_upright)]
    handling_s: NotNegative
    shortest_s: Seconds = 3
    heating_s_per_degree: NotNegative
    cooling_s_per_degree: NotNegative


class NamedPressEntry(PressEntry):
    """One of `[[presses]]`."""

    name: Name


class FabricEntry(Entry):
    name: Text
    hottest: Measure
    grams_per_m2: Positive
    thickness: Positive


class ShapeEntry(Entry):
    """Exactly one of the four forms. Every number is a size over all: a circle's is its diameter."""

    circle: Positive | None = None
    box: Pair | None = None
    polygon: Annotated[list[Point], Field(max_length=MAX_POINTS), AfterValidator(_three_or_more)] | None = (
        None
    )
    svg: Text | None = None
    width: Positive | None = None

    @model_validator(mode="after")
    def _is_one_form(self) -> Self:
        forms = [form for form in SHAPE_FORMS if getattr(self, form) is not None]
        if len(forms) != 1:
            told = " and ".join(forms) or "none of them"
            raise fault(f"names {told}", "give exactly one of circle, box, polygon, svg")
        if (self.width is None) == (self.svg is not None):
            raise fault("width and svg belong together", "give both, or neither")
        return self

    @property
    def form(self) -> str:
        """The key of the one form that is given."""
        return next(form for form in SHAPE_FORMS if getattr(self, form) is not None)


class ZoneEntry(Entry):
    kind: Annotated[ZoneKind, Strict(False)]
    box: Annotated[tuple[Measure, Measure, Positive, Positive], Strict(False)]
    label: Name | None = None


Zones = Annotated[list[ZoneEntry], Field(max_length=MAX_ZONES)]


class SideInSizeEntry(Entry):
    """What is other on a side in one garment size; what is left out is as on the side."""

    size: Size
    flat: Pair | None = None
    shift: Point = (0, 0)
    zones: Zones | None = None


class SideEntry(Entry):
    name: Name
    size: Pair
    zones: Zones = []
    outline: ShapeEntry | None = None
    sizes: Annotated[list[SideInSizeEntry], Field(max_length=MAX_SIZES)] = []


class WindowEntry(Entry):
    """A material's temperatures."""

    set: Measure
    lowest: Measure
    hottest: Measure

    @model_validator(mode="after")
    def _is_upright(self) -> Self:
        if not self.lowest <= self.set <= self.hottest:
            raise fault("the window is upside down", "let lowest be at most set, and set at most hottest")
        return self


class DwellEntry(Entry):
    """A material's seconds."""

    least: Seconds
    longest: Seconds
    total: Seconds
    first: Annotated[int, Field(ge=0)] = 0

    @model_validator(mode="after")
    def _is_upright(self) -> Self:
        if self.first > self.least:
            raise fault("first is longer than least", "let first be at most least, or leave it out")
        if not self.least <= self.longest <= self.total:
            raise fault(
                "the window is upside down", "let least be at most longest, and longest at most total"
            )
        return self


class ThermalEntry(Entry):
    """What was measured of a material; in W/mK, kg/m³ and J/kgK, whatever the file's units are."""

    conductivity: Annotated[float, Field(gt=0, le=500)] | None = None
    density: Annotated[float, Field(gt=0, le=25_000)] | None = None
    specific_heat: Annotated[float, Field(gt=0, le=10_000)] | None = None


class MaterialEntry(Entry):
    label: Name | None = None
    temperature: WindowEntry
    dwell: DwellEntry
    finish: Annotated[int, Field(ge=0, le=3600)] = 0
    pressure: Annotated[list[Annotated[Pressure, Strict(False)]], Field(min_length=1, max_length=3)]
    peel: Annotated[Peel, Strict(False)]
    carrier: bool
    carrier_margin: NotNegative = 0
    takes_on_top: Annotated[list[Name], Field(max_length=MAX_MATERIALS), BeforeValidator(_as_list)]
    guard: bool
    cover: bool
    carrier_safe: bool
    thickness: Positive
    thermal: ThermalEntry = ThermalEntry()

    @model_validator(mode="after")
    def _carrier_is_peeled(self) -> Self:
        if self.carrier == (self.peel == Peel.NONE):
            raise fault(
                f'carrier is {str(self.carrier).lower()}, yet peel is "{self.peel}"',
                'let peel be "none" exactly where there is no carrier',
            )
        if self.carrier and "carrier_margin" not in self.model_fields_set:
            raise fault("has a carrier, but no carrier_margin", "say how far it stands out; 0 if not at all")
        return self

    @property
    def names_on_top(self) -> frozenset[str]:
        """The materials named, or "any"; nothing for "none"."""
        return frozenset(self.takes_on_top) - {NO_MATERIAL}


class PieceEntry(Entry):
    id: Name
    label: Name | None = None
    side: str
    material: str
    at: Point
    turn: Annotated[float, Field(ge=-360, le=360)] = 0
    shape: ShapeEntry


class GarmentsEntry(Entry):
    sizes: Annotated[dict[Size, Annotated[int, Field(ge=1)]], Field(min_length=1)] | None = None
    roster: Text | None = None

    @model_validator(mode="after")
    def _is_one_form(self) -> Self:
        if (self.sizes is None) == (self.roster is None):
            told = "neither sizes nor a roster" if self.sizes is None else "both sizes and a roster"
            raise fault(f"has {told}", "give one of the two")
        return self
