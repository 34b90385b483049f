"""One piece that a plan gives too little time at heat: what is frozen with a batch, and its JSON."""

from dataclasses import asdict, dataclass
from typing import Any

NEVER_S = float("inf")
"""Where no number of seconds would do."""


@dataclass(frozen=True, slots=True)
class HeatFinding:
    """One piece, judged over all hits that bring it down. `hit_n` is where the least would mend it.

    `missing_s` is NEVER_S where no dwell would do. `is_sure` where even the quick end of the band is short.
    `sizes` are the garment sizes that it is about; it is about all of them where none is named.
    """

    piece: str
    hit_n: int
    at_heat_s: float
    missing_s: float
    is_sure: bool
    text: str
    sizes: tuple[str, ...] = ()

    def is_about(self, size: str) -> bool:
        return not self.sizes or size in self.sizes


def heat_finding_to_json(finding: HeatFinding) -> dict[str, Any]:
    """Seconds without end are null, since JSON knows no such number."""
    told = asdict(finding)
    told["missing_s"] = None if finding.missing_s == NEVER_S else finding.missing_s
    told["sizes"] = list(finding.sizes)
    return told


def heat_finding_from_json(data: dict[str, Any]) -> HeatFinding:
    missing_s = NEVER_S if data["missing_s"] is None else data["missing_s"]
    return HeatFinding(**{**data, "missing_s": missing_s, "sizes": tuple(data["sizes"])})
