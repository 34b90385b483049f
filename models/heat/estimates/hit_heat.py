"""What one closing of the press does to the adhesive of each piece it counts for."""

from collections.abc import Iterable
from dataclasses import dataclass

from models.heat.estimates.curves import Curve
from models.heat.estimates.heat_through import heat_through, to_heat_c
from models.heat.layup.placed import Below, ground_of, materials_below, stack_on
from models.job.job import Job
from models.plan.plan import Hit
from models.ranges import Estimate

NEEDED_AT_HEAT_S = 3.0
"""How long an adhesive has to stay up to heat to wet the cloth (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Reheated:
    """How hot the adhesive of a material below gets by this closing [°C]."""

    material: str
    hottest_c: Estimate


@dataclass(frozen=True, slots=True)
class PieceHeat:
    """One piece under one closing: an estimate, whose band says how sure it is.

    `at_heat_s` and `missing_s` are of this closing alone; a piece that gets several is judged over all of
    them by models.heat.estimates.heat_findings.
    """

    piece: str
    to_heat_c: float
    to_heat_s: Estimate
    at_heat_s: Estimate
    missing_s: float  # in the median, of NEEDED_AT_HEAT_S; infinite where no dwell would do
    far_side_c: Estimate
    reheated: tuple[Reheated, ...]
    curve: Curve


@dataclass(frozen=True, slots=True)
class HitHeat:
    """One closing: the pieces it counts for, and those it only heats again, each the slowest first."""

    n: int
    dwell_s: int
    pieces: tuple[PieceHeat, ...]
    again: tuple[PieceHeat, ...]

    @property
    def slowest(self) -> PieceHeat | None:
        """The piece that is up to heat last; None where the hit counts for no piece."""
        return self.pieces[0] if self.pieces else None


def hit_heat(job: Job, hit: Hit) -> HitHeat:
    """How the adhesive of each piece under `hit` warms. It judges, and never changes a dwell.

    Valid for: pieces and zones larger than the stack is thick; a garment that starts at room temperature.
    """
    below = materials_below(job)
    again = [piece for piece in hit.touch_again if piece not in hit.count]
    return HitHeat(
        hit.n, hit.dwell_s, _slowest_first(job, hit, hit.count, below), _slowest_first(job, hit, again, below)
    )


def _slowest_first(job: Job, hit: Hit, pieces: Iterable[str], below: Below) -> tuple[PieceHeat, ...]:
    heats = (_piece_heat(job, hit, piece, below) for piece in pieces)
    return tuple(sorted(heats, key=lambda heat: -heat.to_heat_s.median))


def _piece_heat(job: Job, hit: Hit, piece_id: str, below: Below) -> PieceHeat:
    target_c = to_heat_c(job.material_of(piece_id))
    warmed = heat_through(stack_on(job, hit, piece_id, below, ground_of(job, hit, piece_id)))
    to_heat_s = warmed.seconds_to(target_c)
    return PieceHeat(
        piece=piece_id,
        to_heat_c=target_c,
        to_heat_s=to_heat_s,
        at_heat_s=_at_heat(to_heat_s, hit.dwell_s),
        missing_s=max(0.0, to_heat_s.median + NEEDED_AT_HEAT_S - hit.dwell_s),
        far_side_c=warmed.far_side_c(hit.dwell_s),
        reheated=tuple(Reheated(*hot) for hot in warmed.lower_adhesives_c(hit.dwell_s)),
        curve=warmed.curve(hit.dwell_s),
    )


def _at_heat(to_heat_s: Estimate, dwell_s: float) -> Estimate:
    """Seconds at heat that a dwell leaves; the slow case leaves the fewest."""
    least, likely, most = (
        max(0.0, dwell_s - until) for until in (to_heat_s.high, to_heat_s.median, to_heat_s.low)
    )
    return Estimate(least, likely, most)
