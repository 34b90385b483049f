"""A plan: the hits of one garment, in order, with the reason of each. Its JSON is format 1."""

from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Any

from models.geometry import Box
from models.job.job import Peel, Pressure

JSON_FORMAT = 1

NOWHERE = Box(0, 0, 0, 0)
PEEL_ORDER = (Peel.HOT, Peel.WARM, Peel.COLD)


class PlanStatus(StrEnum):
    OPTIMAL = "optimal"  # the number of hits is proved the fewest
    FEASIBLE = "feasible"  # sound, with a proved lower bound below it


@dataclass(frozen=True, slots=True)
class PeelStep:
    piece: str
    when: Peel


@dataclass(frozen=True, slots=True)
class Hit:
    """One closing of the press. `peel` stands in the order in which to peel: hot, warm, cold."""

    n: int
    side: str
    platen: Box
    temperature_c: float
    pressure: Pressure
    dwell_s: int
    lay: tuple[str, ...]
    count: tuple[str, ...]
    touch_again: tuple[str, ...]
    cover: bool
    pad: bool
    peel: tuple[PeelStep, ...]
    why: tuple[str, ...]
    press: str = ""  # its name, where there are several


OBJECTIVES = ("hits", "walks", "temperature_changes", "side_changes", "dwell_s", "reheats")


@dataclass(frozen=True, slots=True)
class Totals:
    """What is best, smallest first, in the order of OBJECTIVES. `walks` lead from press to press."""

    hits: int
    temperature_changes: int
    side_changes: int
    dwell_s: int
    reheats: int
    walks: int = 0


@dataclass(frozen=True, slots=True)
class Plan:
    """Where the garment's size matters, this is the plan of most garments; `sizes` are those with another.

    `differs` says in words which of them are not worked alike, and why.
    """

    status: PlanStatus
    lower_bound: int
    hits: tuple[Hit, ...]
    totals: Totals
    proved: tuple[str, ...] = ()  # the totals that are proved the least, in their order
    why_not_fewer: tuple[str, ...] = ()  # of each side: the pieces that force its hits
    sizes: tuple["PlanOfSizes", ...] = ()
    differs: tuple[str, ...] = ()

    def of_size(self, size: str) -> "Plan":
        """The plan of a garment of `size`, with nothing left in it of the others."""
        own = next((other.plan for other in self.sizes if size in other.sizes), self)
        return replace(own, sizes=(), differs=())


@dataclass(frozen=True, slots=True)
class PlanOfSizes:
    """The garment sizes that share a plan of their own."""

    sizes: tuple[str, ...]
    plan: Plan


def are_worked_alike(one: Plan, other: Plan) -> bool:
    """Whether both have the same hits, wherever these lie on the side, and with or without a pad."""
    return [_as_worked(hit) for hit in one.hits] == [_as_worked(hit) for hit in other.hits]


def _as_worked(hit: Hit) -> Hit:
    return replace(hit, platen=NOWHERE, pad=False)


def hit_to_json(hit: Hit) -> dict[str, Any]:
    return {
        "n": hit.n,
        "side": hit.side,
        "platen": [_plain(v) for v in (hit.platen.x, hit.platen.y, hit.platen.width, hit.platen.height)],
        "temperature_c": _plain(hit.temperature_c),
        "pressure": hit.pressure.value,
        "dwell_s": hit.dwell_s,
        "lay": list(hit.lay),
        "count": list(hit.count),
        "touch_again": list(hit.touch_again),
        "cover": hit.cover,
        "pad": hit.pad,
        "peel": [{"piece": step.piece, "when": step.when.value} for step in hit.peel],
        "why": list(hit.why),
        **({"press": hit.press} if hit.press else {}),
    }


def hit_from_json(data: dict[str, Any]) -> Hit:
    return Hit(
        n=data["n"],
        side=data["side"],
        platen=Box(*data["platen"]),
        temperature_c=data["temperature_c"],
        pressure=Pressure(data["pressure"]),
        dwell_s=data["dwell_s"],
        lay=tuple(data["lay"]),
        count=tuple(data["count"]),
        touch_again=tuple(data["touch_again"]),
        cover=data["cover"],
        pad=data["pad"],
        peel=tuple(PeelStep(step["piece"], Peel(step["when"])) for step in data["peel"]),
        why=tuple(data["why"]),
        press=data.get("press", ""),
    )


def plan_to_json(plan: Plan) -> dict[str, Any]:
    """`sizes` and `differs` stand there only where the garment's size matters."""
    told = _one_plan_to_json(plan)
    if plan.sizes:
        told["sizes"] = [
            {"sizes": list(other.sizes), "plan": _one_plan_to_json(other.plan)} for other in plan.sizes
        ]
    if plan.differs:
        told["differs"] = list(plan.differs)
    return told


def _one_plan_to_json(plan: Plan) -> dict[str, Any]:
    return {
        "format": JSON_FORMAT,
        "status": plan.status.value,
        "lower_bound": plan.lower_bound,
        "why_not_fewer": list(plan.why_not_fewer),
        "hits": [hit_to_json(hit) for hit in plan.hits],
        "totals": {
            "hits": plan.totals.hits,
            "temperature_changes": plan.totals.temperature_changes,
            "side_changes": plan.totals.side_changes,
            "dwell_s": plan.totals.dwell_s,
            "reheats": plan.totals.reheats,
            **({"walks": plan.totals.walks} if any(hit.press for hit in plan.hits) else {}),
            "proved": list(plan.proved),
        },
    }


def plan_from_json(data: dict[str, Any]) -> Plan:
    return Plan(
        status=PlanStatus(data["status"]),
        lower_bound=data["lower_bound"],
        hits=tuple(hit_from_json(hit) for hit in data["hits"]),
        totals=Totals(**{name: n for name, n in data["totals"].items() if name != "proved"}),
        proved=tuple(data["totals"].get("proved", ())),
        why_not_fewer=tuple(data.get("why_not_fewer", ())),
        sizes=tuple(
            PlanOfSizes(tuple(other["sizes"]), plan_from_json(other["plan"]))
            for other in data.get("sizes", ())
        ),
        differs=tuple(data.get("differs", ())),
    )


def _plain(value: float) -> float | int:
    """Whole numbers print without a decimal point, so that the JSON reads like the job file."""
    return int(value) if float(value).is_integer() else value
