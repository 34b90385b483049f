"""How fast hits are planned and proved, beside one plain constraint model of the same rules.

Run: python -m tests.bench.bench_planner [jobs]
Goals: a first sound plan within 0.1 s for 40 pieces; hits proved within 2 s for 95 of 100 jobs of 40 pieces
on 3 sides; at 20 pieces on 2 sides the median proof 10 times faster than the plain model's; 200 pieces within
10 s, with the gap. Jobs are drawn from seeds. Those without a sequence are passed over and counted; one for
which none was found, but none was proved impossible either, counts as not settled.
"""

import itertools
import sys
import time
from contextlib import suppress
from dataclasses import dataclass, field, replace
from statistics import median

import ortools.sat.python.cp_model  # noqa: F401 - loaded before the clock starts, as in an app that has planned once

from models.errors import NoSoundSequenceError
from models.job.job import Job
from models.plan.plan import Plan, PlanStatus
from models.planning.search.solve_job import plan_hits
from tests.plain_model import fewest_hits
from tests.random_jobs import in_two_heats, random_job
from tests.sample_jobs import PRESS

PLAIN_JOBS = 9
JOBS_IN_TWO_HEATS = 20
PLAIN_PATIENCE_S = 60
GOAL_S = 2.0
LARGE_SIDES, PIECES_A_SIDE = 10, 20
UNPROVED = "not proved that there is none"
NEVER = float("inf")


@dataclass
class Timed:
    """One planning: when the first plan was there, and when its hits were proved [s]."""

    first_s: float = NEVER
    proved_s: float = NEVER
    hits: int = 0
    plan: Plan | None = None
    is_impossible: bool = False
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


def timed(job: Job) -> Timed:
    """Stops once the hits are proved: what is proved besides is not measured here."""
    clock = Timed()

    def is_over() -> bool:
        return clock.proved_s < NEVER

    try:
        clock.plan = plan_hits(job, progress=clock.told, stop=is_over)
    except NoSoundSequenceError as none:
        clock.is_impossible = UNPROVED not in str(none)
    return clock


def measured(jobs: int, pieces: int, sides: int) -> None:
    """The first `jobs` jobs, by seed, that are not proved impossible."""
    everything = (timed(random_job(seed, pieces, sides)) for seed in itertools.count())
    clocks: list[Timed] = []
    impossible: list[Timed] = []
    while len(clocks) < jobs:
        clock = next(everything)
        (impossible if clock.is_impossible else clocks).append(clock)
    none_found = sum(clock.plan is None for clock in clocks)
    first_s, proved_s = [c.first_s for c in clocks], [c.proved_s for c in clocks]
    print(f"{jobs} jobs of {pieces} pieces on {sides} sides, {len(impossible)} impossible ones passed over")
    print(f"  first plan: {_spread(first_s)}; no plan found, nor proved that there is none: {none_found}")
    print(f"  hits proved: {_spread(proved_s)}")
    print(f"  proved within {GOAL_S:g} s: {sum(clock.is_settled for clock in clocks)} of {jobs}")


def _spread(seconds: list[float]) -> str:
    within_s = sorted(seconds)[int(0.95 * (len(seconds) - 1))]
    return f"median {median(seconds):.3f} s, 95 of 100 within {within_s:.3f} s, longest {max(seconds):.3f} s"


def beside_the_plain_model(jobs: int) -> None:
    planned = ((job, timed(job)) for seed in itertools.count() for job in (random_job(seed, 20, 2),))
    ours, plain = [], []
    for job, clock in itertools.islice((both for both in planned if both[1].plan), jobs):
        began = time.perf_counter()
        proof = fewest_hits(job, clock.hits + 1, PLAIN_PATIENCE_S)
        plain.append(time.perf_counter() - began if proof is not None and proof.is_proved else NEVER)
        ours.append(clock.proved_s)
    times = median(plain) / median(ours)
    print(f"beside the plain model, {jobs} jobs of 20 pieces on 2 sides, proof of the hits:")
    print(f"  planner median {median(ours):.2f} s, plain model median {median(plain):.2f} s: {times:.0f} x")


def in_heats_that_exclude_each_other(jobs: int) -> None:
    """Planned to the end: what the sides need of changes once all of them are looked at together."""
    seconds, first, last, proved = [], 0, 0, 0
    for job in itertools.islice((in_two_heats(random_job(seed, 20, 3)) for seed in itertools.count()), jobs):
        told: list[Plan] = []
        began = time.perf_counter()
        with suppress(NoSoundSequenceError):
            plan = plan_hits(job, progress=told.append)
            seconds.append(time.perf_counter() - began)
            first += told[0].totals.temperature_changes
            last += plan.totals.temperature_changes
            proved += {"temperature_changes", "side_changes"} <= set(plan.proved)
    print(f"{len(seconds)} jobs of 20 pieces on 3 sides in two heats: all planned after {_spread(seconds)}")
    print(f"  changes of temperature: {first} in the first plans, {last} in the last")
    print(f"  changes of temperature and of side proved: {proved} of {len(seconds)}")


def large(sides: int) -> None:
    """As many sound sides as asked for, of 20 pieces each, put together to one job, planned to the end."""
    job, clock = large_job(sides), Timed()
    plan = plan_hits(job, progress=clock.told)
    took_s = time.perf_counter() - clock.began
    print(f"{len(job.pieces)} pieces on {sides} sides: first plan after {clock.first_s:.2f} s")
    print(f"  after {took_s:.1f} s {len(plan.hits)} hits, {plan.lower_bound} at least")


def large_job(sides: int) -> Job:
    drawn = (random_job(seed, PIECES_A_SIDE) for seed in itertools.count())
    sound = (job for job in drawn if job.press == PRESS and _is_sound(job))
    jobs = list(itertools.islice(sound, sides))
    return replace(
        jobs[0],
        sides=tuple(replace(job.sides[0], name=f"side {n}") for n, job in enumerate(jobs)),
        pieces=tuple(
            replace(piece, id=f"{n}-{piece.id}", side=f"side {n}")
            for n, job in enumerate(jobs)
            for piece in job.pieces
        ),
    )


def _is_sound(job: Job) -> bool:
    """Whether a plan is found at once."""
    try:
        plan_hits(job, stop=lambda: True)
    except NoSoundSequenceError:
        return False
    return True


if __name__ == "__main__":
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 100
    measured(count, 40, 3)
    beside_the_plain_model(PLAIN_JOBS)
    in_heats_that_exclude_each_other(JOBS_IN_TWO_HEATS)
    large(LARGE_SIDES)
