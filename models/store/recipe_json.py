"""A recipe as JSON, for the batch that freezes it. Whatever is read back equals what was written."""

from dataclasses import asdict
from datetime import date
from typing import Any

from models.errors import StorageError
from models.garment.progress import Recipe
from models.geometry import Box, Outline, Point, Polygon, Ring
from models.job.job import (
    Fabric,
    GarmentOrder,
    Job,
    Material,
    Peel,
    Piece,
    Press,
    Pressure,
    Side,
    SideInSize,
    Thermal,
    Zone,
    ZoneKind,
)
from models.plan.plan import plan_from_json, plan_to_json
from models.recipe.heat_finding import heat_finding_from_json, heat_finding_to_json
from models.recipe.piece_rest import piece_rest_from_json, piece_rest_to_json

Json = dict[str, Any]

FORMAT = 5
FORMATS = (1, 2, 3, 4, FORMAT)
"""Format 1 knows no garment sizes, format 2 no more than one press, format 3 no rests, format 4 none but
on the table; otherwise they are the same. A batch that was loaded before heat was estimated has no
`heat_findings` either.
"""


def recipe_to_json(recipe: Recipe) -> Json:
    return {
        "format": FORMAT,
        "job": job_to_json(recipe.job),
        "plan": plan_to_json(recipe.plan),
        "heat_findings": [heat_finding_to_json(finding) for finding in recipe.heat_findings],
        "rests": [piece_rest_to_json(rest) for rest in recipe.rests],
    }


def recipe_from_json(data: Json) -> Recipe:
    """Raises StorageError where the format is none that this program knows."""
    if data["format"] not in FORMATS:
        raise StorageError(
            f"this batch is stored in format {data['format']}, newer than {FORMAT}; update this program"
        )
    findings = tuple(heat_finding_from_json(finding) for finding in data.get("heat_findings", ()))
    rests = tuple(piece_rest_from_json(rest) for rest in data.get("rests", ()))
    return Recipe(job_from_json(data["job"]), plan_from_json(data["plan"]), findings, rests)


def job_to_json(job: Job) -> Json:
    """Every field under its own name: tuples become lists, sets sorted lists, the due day ISO 8601."""
    data = asdict(job)
    data["due"] = job.due and job.due.isoformat()
    for material in data["materials"]:
        material["takes_on_top"] = sorted(material["takes_on_top"])
    return data


def job_from_json(data: Json) -> Job:
    return Job(
        name=data["name"],
        reference=data["reference"],
        due=date.fromisoformat(data["due"]) if data["due"] else None,
        press=Press(**data["press"]),
        more_presses=tuple(Press(**press) for press in data.get("more_presses", ())),
        fabric=Fabric(**data["fabric"]),
        sides=tuple(_side(side) for side in data["sides"]),
        materials=tuple(_material(material) for material in data["materials"]),
        pieces=tuple(Piece(**{**piece, "outline": _outline(piece["outline"])}) for piece in data["pieces"]),
        garments=tuple(GarmentOrder(**garment) for garment in data["garments"]),
    )


def _side(data: Json) -> Side:
    zones = tuple(_zone(zone) for zone in data["zones"])
    outline = _outline(data["outline"]) if data["outline"] else None
    sizes = tuple(_side_in_size(in_size) for in_size in data.get("sizes", ()))
    return Side(**{**data, "zones": zones, "outline": outline, "sizes": sizes})


def _side_in_size(data: Json) -> SideInSize:
    zones = tuple(_zone(zone) for zone in data["zones"])
    return SideInSize(**{**data, "zones": zones, "shift_mm": _point(data["shift_mm"])})


def _zone(data: Json) -> Zone:
    return Zone(ZoneKind(data["kind"]), Box(**data["box"]), data["label"])


def _material(data: Json) -> Material:
    typed = {
        "pressures": tuple(Pressure(pressure) for pressure in data["pressures"]),
        "peel": Peel(data["peel"]),
        "takes_on_top": frozenset(data["takes_on_top"]),
        "thermal": Thermal(**data.get("thermal", {})),
    }
    return Material(**{**data, **typed})


def _outline(data: Json) -> Outline:
    return Outline(tuple(_polygon(polygon) for polygon in data["polygons"]))


def _polygon(data: Json) -> Polygon:
    return Polygon(_ring(data["exterior"]), tuple(_ring(hole) for hole in data["holes"]))


def _ring(points: list[list[float]]) -> Ring:
    return tuple(_point(point) for point in points)


def _point(point: list[float]) -> Point:
    x, y = point
    return (x, y)
