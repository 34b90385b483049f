"""Frozen hits as they are ordered at the press.

A frozen hit can be bare where it must not be: it was planned before the rule of the cover sheet was as it is,
or the garment has not been pressed as planned, so that a piece is down earlier or later.
"""

from dataclasses import replace

from models.job.job import Job
from models.plan.plan import Hit, Plan
from models.planning.explain.setting_reasons import why_not_bare
from models.planning.hits.piece_record import Records, after_hit, untouched

RECKONED_BARE = "Planned without the cover sheet, under which it heats more slowly: try one first."


def as_ordered(hit: Hit, job: Job, records: Records) -> Hit:
    """`hit` as it is to be pressed on a garment to which `records` has happened: never bare over a piece that
    wants a cover sheet by now. A cover sheet that was planned stays on.
    """
    reasons = () if hit.cover else tuple(why_not_bare(hit, job, records))
    return replace(hit, cover=True, why=(*hit.why, *reasons, RECKONED_BARE)) if reasons else hit


def plan_as_ordered(plan: Plan, job: Job) -> Plan:
    """The plan of one garment size with each hit as it will be ordered where all goes as planned."""
    hits, records = list[Hit](), untouched(job)
    for hit in plan.hits:
        hits.append(as_ordered(hit, job, records))
        records = after_hit(records, job, hit, hit.dwell_s)
    return replace(plan, hits=tuple(hits))
