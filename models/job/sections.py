"""A job file section by section: a fault in one hides none in another."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from models.job.entry_faults import E, read_entry
from models.job.fault_list import FaultList
from models.job.schema import (
    MAX_MATERIALS,
    MAX_PIECES,
    MAX_PRESSES,
    MAX_SIDES,
    FabricEntry,
    GarmentsEntry,
    HeadEntry,
    JobFile,
    MaterialEntry,
    NamedPressEntry,
    PieceEntry,
    PressEntry,
    SideEntry,
    UnitsEntry,
)


@dataclass(frozen=True, slots=True)
class Sections:
    """What could be read; an entry with faults is not here.

    Sides and pieces stand by their place in the file, materials by their key. `side_names` and
    `material_keys` hold those of faulty entries too, so that a piece on one is not called lost.
    """

    units: UnitsEntry | None
    head: HeadEntry | None
    presses: Mapping[str, PressEntry]
    fabric: FabricEntry | None
    garments: GarmentsEntry | None
    sides: Mapping[str, SideEntry]
    materials: Mapping[str, MaterialEntry]
    pieces: Mapping[str, PieceEntry]
    side_names: frozenset[str]
    material_keys: frozenset[str]


def read_sections(raw: dict[str, Any], faults: FaultList) -> Sections:
    """Reads all sections of a job file and notes every fault in their shape."""
    read_entry(JobFile, raw, "", faults)
    sides = _list(raw, "sides", MAX_SIDES)
    materials = _table(raw, "materials") or {}
    return Sections(
        units=_read_table(UnitsEntry, raw, "units", faults) if "units" in raw else UnitsEntry(),
        head=_read_table(HeadEntry, raw, "job", faults),
        presses=_read_presses(raw, faults),
        fabric=_read_table(FabricEntry, raw, "fabric", faults),
        garments=_read_table(GarmentsEntry, raw, "garments", faults),
        sides=_read_list(SideEntry, sides, "sides", "name", faults),
        materials=_read_materials(materials, faults),
        pieces=_read_list(PieceEntry, _list(raw, "pieces", MAX_PIECES), "pieces", "id", faults),
        side_names=frozenset(name for name in (_text(side, "name") for side in sides) if name),
        material_keys=frozenset(materials),
    )


def _read_table(model: type[E], raw: dict[str, Any], key: str, faults: FaultList) -> E | None:
    """Where the key is missing or no table, the file as a whole has told so."""
    table = _table(raw, key)
    return None if table is None else read_entry(model, table, key, faults)


def _read_presses(raw: dict[str, Any], faults: FaultList) -> Mapping[str, PressEntry]:
    """The one press, or all of several, by their place."""
    if raw.get("press") is not None and raw.get("presses") is not None:
        faults.note("presses", "stand beside press", "keep one of the two")
    elif raw.get("press") is None and raw.get("presses") is None:
        faults.note("press", "is missing", "add it")
    one = _read_table(PressEntry, raw, "press", faults)
    several = _read_list(NamedPressEntry, _list(raw, "presses", MAX_PRESSES), "presses", "name", faults)
    return several if one is None else {"press": one, **several}


def _read_list(model: type[E], raw: list[Any], key: str, name_key: str, faults: FaultList) -> Mapping[str, E]:
    places = [_place(key, n, _text(item, name_key)) for n, item in enumerate(raw, start=1)]
    entries = [read_entry(model, item, place, faults) for place, item in zip(places, raw, strict=True)]
    return {place: entry for place, entry in zip(places, entries, strict=True) if entry is not None}


def _read_materials(raw: dict[str, Any], faults: FaultList) -> Mapping[str, MaterialEntry]:
    if len(raw) > MAX_MATERIALS:
        return {}
    entries = {key: read_entry(MaterialEntry, item, f"materials.{key}", faults) for key, item in raw.items()}
    return {key: entry for key, entry in entries.items() if entry is not None}


def _place(key: str, n: int, name: str) -> str:
    return f'{key}[{n}] "{name}"' if name else f"{key}[{n}]"


def _table(raw: dict[str, Any], key: str) -> dict[str, Any] | None:
    value = raw.get(key)
    return value if isinstance(value, dict) else None


def _list(raw: dict[str, Any], key: str, longest: int) -> list[Any]:
    """Nothing of a list that is too long: the file is refused for that, not for thousands of lines."""
    value = raw.get(key)
    return value if isinstance(value, list) and len(value) <= longest else []


def _text(item: Any, key: str) -> str:
    value = item.get(key) if isinstance(item, dict) else None
    return value.strip() if isinstance(value, str) else ""
