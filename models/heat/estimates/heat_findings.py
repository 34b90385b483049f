"""Pieces whose planned hits leave their adhesive too little time at heat, with the seconds missing."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil, floor

from models.heat.estimates.hit_heat import NEEDED_AT_HEAT_S, PieceHeat, hit_heat
from models.heat.estimates.over_sizes import over_sizes
from models.job.job import Job
from models.plan.plan import Hit, Plan
from models.planning.hits.coverage import counted_parts
from models.planning.hits.piece_record import after_hit, untouched
from models.recipe.heat_finding import NEVER_S, HeatFinding


@dataclass(frozen=True, slots=True)
class _Warming:
    """One closing that helps to bring a piece down, and for which of its parts it counts."""

    hit: Hit
    heat: PieceHeat
    parts: tuple[bool, ...]

    def at_heat_s(self, *, quick: bool) -> float:
        return self.heat.at_heat_s.high if quick else self.heat.at_heat_s.median

    def short_s(self, *, quick: bool) -> float:
        """Seconds that this dwell misses until the adhesive is up to heat at all."""
        until_s = self.heat.to_heat_s.low if quick else self.heat.to_heat_s.median
        return max(0.0, until_s - self.hit.dwell_s)


def findings_of_sizes(job: Job, plan: Plan) -> tuple[HeatFinding, ...]:
    """As `heat_findings`, of all garment sizes; a finding that is not about all of them names its own."""
    return over_sizes(job, plan, heat_findings)


def heat_findings(job: Job, plan: Plan) -> tuple[HeatFinding, ...]:
    """What of the plan is too short in the median, in file order of the pieces. No dwell is changed.

    Estimates, of pieces at room temperature at each closing: a test piece and the material maker's sheet
    stand above them.
    """
    warmings = _warmings(job, plan)
    found = (_finding(job, piece.id, warmings[piece.id]) for piece in job.pieces if warmings[piece.id])
    return tuple(finding for finding in found if finding is not None)


def _warmings(job: Job, plan: Plan) -> dict[str, list[_Warming]]:
    """For each piece its closings until it is down; a second press after the peel melts nothing new."""
    records = untouched(job)
    warmings: dict[str, list[_Warming]] = {piece.id: [] for piece in job.pieces}
    for hit in plan.hits:
        for heat in hit_heat(job, hit).pieces:
            parts = counted_parts(hit, job.piece(heat.piece), job)
            if any(parts) and not records[heat.piece].down:
                warmings[heat.piece].append(_Warming(hit, heat, parts))
        records = after_hit(records, job, hit, hit.dwell_s)
    return warmings


def _finding(job: Job, piece: str, warmings: Sequence[_Warming]) -> HeatFinding | None:
    """The piece's part that has the least time at heat decides."""
    worst = min(_by_part(warmings), key=lambda part: _total_s(part, quick=False))
    at_heat_s = _total_s(worst, quick=False)
    missing_s, mend = min((_missing_s(worst, warming, quick=False), warming.hit.n) for warming in worst)
    if missing_s <= 0:
        return None
    is_sure = all(_missing_s(worst, warming, quick=True) > 0 for warming in worst)
    text = _in_words(job.piece(piece).label, at_heat_s, missing_s, mend, is_sure=is_sure)
    return HeatFinding(piece, mend, at_heat_s, missing_s, is_sure, text)


def _by_part(warmings: Sequence[_Warming]) -> Iterator[list[_Warming]]:
    """For each part that any closing counts for, those closings."""
    for part in range(len(warmings[0].parts)):
        of_part = [warming for warming in warmings if warming.parts[part]]
        if of_part:
            yield of_part


def _total_s(warmings: Sequence[_Warming], *, quick: bool) -> float:
    return sum(warming.at_heat_s(quick=quick) for warming in warmings)


def _missing_s(warmings: Sequence[_Warming], longer: _Warming, *, quick: bool) -> float:
    """Seconds that `longer` would have to last longer for the part to have its time at heat."""
    return NEEDED_AT_HEAT_S - _total_s(warmings, quick=quick) + longer.short_s(quick=quick)


def _in_words(label: str, at_heat_s: float, missing_s: float, mend: int, *, is_sure: bool) -> str:
    """Rounded to the safe side: what is missing up, what is there down."""
    has = f"{label}: at heat for about {floor(at_heat_s)} s of the {NEEDED_AT_HEAT_S:.0f} s that it wants"
    more = "no dwell would do"
    if missing_s < NEVER_S:
        more = f"about {ceil(missing_s)} s more in hit {mend} would do"
    sure = "short even at the quick end of the estimate" if is_sure else "an estimate"
    return f"{has}; {more}; {sure}: try one first"
