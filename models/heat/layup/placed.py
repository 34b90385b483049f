"""The stack where one piece of a job is pressed by one hit."""

from collections.abc import Mapping

from models.heat.layup.stack import Ground, Stack, stack_of
from models.job.job import Job, Material, ZoneKind
from models.job.stacking import stacked_pairs
from models.plan.plan import Hit

Below = Mapping[str, tuple[Material, ...]]
"""For each piece that is stacked on others, their materials, the upper one first."""


def materials_below(job: Job) -> Below:
    below: dict[str, tuple[Material, ...]] = {}
    for upper, lower in stacked_pairs(job):
        below[upper] = (job.material_of(lower), *below.get(upper, ()))
    return below


def stack_on(job: Job, hit: Hit, piece_id: str, below: Below, ground: Ground) -> Stack:
    """The stack of the piece under `hit`, as it is on this ground."""
    material = job.material_of(piece_id)
    return stack_of(
        job.fabric,
        material,
        hit.temperature_c,
        hit.pressure,
        ground=ground,
        below=below.get(piece_id, ()),
    )


def ground_of(job: Job, hit: Hit, piece_id: str) -> Ground:
    """The piece's worst spot: over a raised zone it is the seam, for the pad ends beside it."""
    box = job.piece(piece_id).box
    zones = job.side(hit.side).zones_of(ZoneKind.RAISED)
    seam = any(zone.box.shares_area_with(box) for zone in zones)
    return Ground(
        cover_sheets=int(hit.cover),
        carrier=carrier_is_on(job, hit, piece_id),
        seam=seam,
        pad=hit.pad and not seam,
    )


def carrier_is_on(job: Job, hit: Hit, piece_id: str) -> bool:
    """Whether the piece still has its carrier under this closing: it comes off once the piece is down."""
    material = job.material_of(piece_id)
    comes_off_after = piece_id in hit.lay or any(step.piece == piece_id for step in hit.peel)
    not_yet_down = piece_id in hit.count and not material.finish_s
    return material.carrier and (comes_off_after or not_yet_down)
