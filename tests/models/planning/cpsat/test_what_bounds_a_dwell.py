"""The piece that is said to bound a hit's seconds does so: one second more, or less, is against the rules."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

import pytest

from models.geometry import Box
from models.job.job import Job
from models.plan.plan import Hit, Plan
from models.planning.assembly.hit_builder import written_hits
from models.planning.assembly.merge_sides import interleaved
from models.planning.problem.patterns import ways_to_hit
from models.planning.problem.resolved_hit import strokes_of
from models.planning.problem.side import side_work
from models.planning.problem.state import Closing
from models.planning.search.solve_job import plan_hits
from tests.random_jobs import holding_at_first, random_job
from tests.rule_checker import broken_rules
from tests.sample_jobs import TWILL, box_piece, crew_vest_job, job_of

SEEDS = range(12)


def with_seconds_more(plan: Plan, hit: Hit, more_s: int) -> Plan:
    changed = replace(hit, dwell_s=hit.dwell_s + more_s)
    totals = replace(plan.totals, dwell_s=plan.totals.dwell_s + more_s)
    return replace(plan, totals=totals, hits=tuple(changed if h.n == hit.n else h for h in plan.hits))


def told_bounds(job: Job, plan: Plan) -> Iterator[tuple[Hit, str, int]]:
    """Each hit with its sentence on the seconds, and the change of them that this sentence rules out."""
    for hit in plan.hits:
        told = hit.why[1].split(";")[0]
        if "bears no more" in told:
            yield hit, told, 1
        elif any(
            words in told
            for words in ("at the least", "has had", "second press", "heats nothing", "to begin with")
        ):
            yield hit, told, -1


def is_bound(job: Job, plan: Plan, hit: Hit, told: str, more_s: int) -> bool:
    broken = broken_rules(job, with_seconds_more(plan, hit, more_s))
    named = [piece for piece in job.pieces if piece.label in told]
    return bool(broken) and (more_s < 0 or any(p.id in str(line) for p in named for line in broken))


def planned(seed: int) -> tuple[Job, Plan]:
    """Every other job is of materials that hold only after a long first hit."""
    drawn = random_job(seed, pieces=6)
    job = holding_at_first(drawn) if seed % 2 else drawn
    return job, plan_hits(job, effort=1)


@pytest.mark.parametrize("seed", SEEDS)
def test_what_is_said_to_bound_the_seconds_does(seed):
    job, plan = planned(seed)
    loose = [
        told for hit, told, more_s in told_bounds(job, plan) if not is_bound(job, plan, hit, told, more_s)
    ]
    assert loose == []


def test_bounds_of_each_kind_are_told():
    vest = crew_vest_job()
    plans = [(vest, plan_hits(vest)), *map(planned, SEEDS)]
    kinds = Counter(more_s for job, plan in plans for _, _, more_s in told_bounds(job, plan))
    assert min(kinds[1], kinds[-1]) > 1


def test_seconds_that_nobody_bounds_are_blamed_on_nobody():
    """The twill would bear all its 20 s at once, and gets them in two hits all the same."""
    job = job_of([box_piece("sun", TWILL, Box(200, 300, 100, 60))], [TWILL])
    work = side_work(job, job.sides[0])
    way = ways_to_hit(work)[0]
    strokes = strokes_of(work, [Closing(way, laid=1, dwell_s=12), Closing(way, laid=0, dwell_s=8)])
    first, second = written_hits(interleaved([strokes]))
    assert first.why[1] == "12 s: a share of what sun wants, divided among its hits; still to come: sun 8 s."
    assert second.why[1] == "8 s: sun has had 12 of its 20 s."
