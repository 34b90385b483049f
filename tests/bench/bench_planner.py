"""How fast hits are planned and proved, beside one plain constraint model of the same rules.

Run: python -m tests.bench.bench_planner [jobs]
Goals: a first sound plan within 0.1 s for 40 pieces; hits proved within 2 s for 95 of 100 jobs of 40 pieces
on 3 sides; at 20 pieces on 2 sides the median proof 10 times faster than the plain model's. Jobs are drawn
from seeds; those for which no sequence is found are counted apart.
"""

import sys
import time
from dataclasses import dataclass, field
from statistics import median

import ortools.sat.python.cp_model  # noqa: F401 - loaded before the clock starts, as in an app that has planned once

from models.errors import NoSoundSequenceError
from models.job.job import Job
from models.planning.plan import Plan, PlanStatus
from models.planning.planner import plan_hits
from tests.plain_model import fewest_hits
from tests.random_jobs import random_job

PLAIN_JOBS = 9
PLAIN_PATIENCE_S = 60
GOAL_S = 2.0
LARGE_S = 9.0
NEVER = float("inf")


@dataclass
class Timed:
    """One planning: when the first plan was there, and when its hits were proved [s]."""

    first_s: float = NEVER
    proved_s: float = NEVER
    hits: int = 0
    began: float = field(default_factory=time.perf_counter)

    def told(self, plan: Plan) -> None:
        now_s = time.perf_counter() - self.began
        self.first_s = min(self.first_s, now_s)
        self.hits = len(plan.hits)
        if plan.status == PlanStatus.OPTIMAL:
            self.proved_s = min(self.proved_s, now_s)

    @property
    def is_settled(self) -> bool:
        return self.proved_s < GOAL_S


def timed(job: Job) -> Timed | None:
    """Stops once the hits are proved: what is proved besides is not measured here."""
    clock = Timed()
    try:
        plan_hits(job, progress=clock.told, stop=lambda: clock.proved_s < NEVER)
    except NoSoundSequenceError:
        return None
    return clock


def measured(jobs: int, pieces: int, sides: int) -> None:
    every = [timed(random_job(seed, pieces, sides)) for seed in range(jobs)]
    planned = [clock for clock in every if clock is not None]
    first_s, proved_s = [c.first_s for c in planned], [c.proved_s for c in planned]
    settled = sum(clock.is_settled for clock in planned)
    print(f"{jobs} jobs of {pieces} pieces on {sides} sides, {jobs - len(planned)} without a sequence")
    print(f"  first plan: median {median(first_s):.3f} s, longest {max(first_s):.3f} s")
    print(f"  hits proved: median {median(proved_s):.3f} s, within {GOAL_S:g} s {settled} of {len(planned)}")


def beside_the_plain_model() -> None:
    jobs = [random_job(seed, 20, 2) for seed in range(PLAIN_JOBS)]
    ours, plain = [], []
    for job in jobs:
        clock = timed(job)
        if clock is None:
            continue
        began = time.perf_counter()
        proof = fewest_hits(job, clock.hits + 1, PLAIN_PATIENCE_S)
        plain.append(time.perf_counter() - began if proof is not None and proof.is_proved else NEVER)
        ours.append(clock.proved_s)
    print(f"beside the plain model, {len(ours)} jobs of 20 pieces on 2 sides, proof of the hits:")
    print(f"  planner median {median(ours):.3f} s, plain model median {median(plain):.3f} s")


def large() -> None:
    clock = Timed()
    late = clock.began + LARGE_S
    plan = plan_hits(random_job(1, 200, 4), progress=clock.told, stop=lambda: time.perf_counter() > late)
    took_s = time.perf_counter() - clock.began
    print(f"200 pieces on 4 sides: first plan after {clock.first_s:.2f} s")
    print(f"  after {took_s:.1f} s {len(plan.hits)} hits, {plan.lower_bound} at least")


if __name__ == "__main__":
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 100
    measured(count, 20, 2)
    measured(count, 40, 3)
    beside_the_plain_model()
    large()
