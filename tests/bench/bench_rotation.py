"""How quickly the next garment is called, and how much sooner a rotated batch is done than one pressed whole.

Run: python -m tests.bench.bench_rotation [batches [small batches for one press, and for two]]
Goals: the next step within 50 ms for 300 garments of 4 hits; the press idle for less than 5 % of the time
where the lower bound allows it; within 3 % of the proved end on batches of up to 12 garments. All hands take
what is expected of them. The demo batch is planned from its file; the others are drawn from seeds: 10 to 40
garments of 2 to 6 hits at 1 to 3 temperatures. It takes some ten minutes, most of them for the proofs.
"""

import sys
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from statistics import median, quantiles

from models.demo import demo_job_path
from models.floor.resting import waits_at
from models.garment.progress import Recipe
from models.heat.estimates.piece_rests import rests_of_sizes
from models.job.job import Job
from models.job.reader import read_job
from models.planning.planner import plan_sizes
from models.recipe.places import REST_PLACE
from models.rotation.next_step import next_step
from models.rotation.problem.shop import Garment, Press, Setting, Shop, Visit
from models.rotation.rules.compare_policies import passes
from models.rotation.rules.whole_garments import course_whole
from models.rotation.times.expected import expected_visit
from models.rotation.times.pace import Hand, at_pace, pace_of
from tests.random_shops import batch
from tests.reference.least_gaps import least_with_gaps_s
from tests.reference.played_floor import Played, PlayedFloor
from tests.reference.shortest_rotation import ExactEnd, earliest_end

BATCHES, SMALL_BATCHES = 50, 12
CALLS = 200
PROOF_S = 15.0
HALF_SECONDS = 2
"""All times of the drawn batches are whole halves of a second."""
FOLLOW = 1
"""No effort for another rule than the one that was found before."""
IDLE_GOAL, GAP_GOAL, NEAR = 0.05, 0.03, 0.001


def as_expected(_: Hand, expected_s: float) -> float:
    return expected_s


def calls() -> None:
    """Each call anew from the floor as it is then, at the pace that was seen until then."""
    visits = batch(0).garments[0].visits[:1] * 2 + _hotter(batch(0).garments[0].visits[:1] * 2)
    garments = tuple(Garment(f"g{n}", visits) for n in range(300))
    floor = PlayedFloor(Shop((Press("press 1", 6, 20, 149),), garments), as_expected)
    took_ms = []
    for n in range(CALLS):
        floor.play(until=lambda floor, n=n: len(floor.seen) > 3 * n)
        began = time.perf_counter()
        next_step(at_pace(floor.shop_now(), pace_of(floor.seen)), floor.rule)
        took_ms.append(1000 * (time.perf_counter() - began))
    print(f"next step, 300 garments of 4 hits: p50 {median(took_ms):.0f} ms,", end=" ")
    print(f"p95 {quantiles(took_ms, n=20)[-1]:.0f} ms (goal 50)")


def _hotter(visits: Sequence[Visit]) -> tuple[Visit, ...]:
    return tuple(replace(visit, setting=Setting(visit.setting.press, 160)) for visit in visits)


def demo_shop() -> Shop:
    """The demo's garments, each with the hits of its size."""
    job = read_job(demo_job_path())
    plan = plan_sizes(job)
    recipe = Recipe(job, plan, rests=rests_of_sizes(job, plan))
    presses = tuple(
        Press(press.name, press.heating_s_per_degree, press.cooling_s_per_degree) for press in job.presses
    )
    return Shop(presses, tuple(_demo_garments(job, recipe)))


def _demo_garments(job: Job, recipe: Recipe) -> Iterator[Garment]:
    for order in job.garments:
        own = recipe.of_size(order.size)
        visits = []
        for hit in own.plan.hits:
            visits.append(expected_visit(own.job, hit, waits_at(REST_PLACE, own, hit, {})))
        yield Garment(str(order.number), tuple(visits))


@dataclass(frozen=True, slots=True)
class Compared:
    """One batch worked by rotation and whole, and what nobody can be quicker than."""

    shop: Shop
    played: Played
    whole_s: float
    least_s: float

    @property
    def ratio(self) -> float:
        return self.played.end_s / self.whole_s

    @property
    def idle(self) -> float:
        return self.played.idle_share(len(self.shop.presses))

    @property
    def could_be_idle(self) -> float:
        """The idle share at the lower bound, with the same hits and changes."""
        busy_s = self.played.on_press_s + self.played.changes_s
        return max(0.0, 1 - busy_s / (self.least_s * len(self.shop.presses)))


def compared(shop: Shop) -> Compared:
    """The rule is searched for once, as the outlook does, and followed."""
    floor = PlayedFloor(shop, as_expected, effort=FOLLOW)
    floor.rule = (passes(shop).best.rule,)
    played = floor.play()
    return Compared(shop, played, course_whole(shop).end_s, least_with_gaps_s(shop, played.end_s))


def against_whole(many: int) -> None:
    demo = compared(demo_shop())
    print(f"demo batch, {len(demo.shop.garments)} garments: {_minutes(demo.played.end_s)} rotated,", end=" ")
    print(
        f"{_minutes(demo.whole_s)} whole = {demo.ratio:.2f} x; at the least {_minutes(demo.least_s)};",
        end=" ",
    )
    print(f"press idle {demo.idle:.1%}")
    drawn = [compared(batch(seed)) for seed in range(many)]
    ratios = [one.ratio for one in drawn]
    print(f"{many} drawn batches: rotated/whole median {median(ratios):.2f},", end=" ")
    print(f"best {min(ratios):.2f}, worst {max(ratios):.2f}")
    over = [one.played.end_s / one.least_s - 1 for one in drawn]
    print(f"  at the lower bound itself: {sum(gap < NEAR for gap in over)}; above it", end=" ")
    print(f"median {median(over):.1%}, worst {max(over):.1%}")
    able = [one.idle for one in drawn if one.could_be_idle < IDLE_GOAL]
    kept = sum(idle < IDLE_GOAL for idle in able)
    print(f"  the bound allows an idle press for less than 5 % in {len(able)}: kept in {kept},", end=" ")
    print(f"idle median {median(able):.1%}, worst {max(able):.1%}")


def _minutes(seconds: float) -> str:
    return f"{seconds / 60:.0f} min"


@dataclass(frozen=True, slots=True)
class Proved:
    """A small batch: its played end, the end that was foretold before, and the proof."""

    played_s: float
    foretold_s: float
    exact: ExactEnd

    @property
    def best_s(self) -> float:
        return min(self.played_s, self.foretold_s, self.exact.end_s)

    @property
    def is_proved(self) -> bool:
        return self.best_s <= self.exact.bound_s


def proved(shop: Shop) -> Proved:
    best = passes(shop).best
    exact = earliest_end(shop, PROOF_S, known=best.course, ticks_per_s=HALF_SECONDS)
    floor = PlayedFloor(shop, as_expected)
    floor.rule = (best.rule,)
    return Proved(floor.play().end_s, best.course.end_s, exact)


def against_the_proof(many: int, presses: int) -> None:
    small = [proved(batch(1_000 + seed, fewest=3, most=12, presses=presses)) for seed in range(many)]
    print(f"{many} batches of up to 12 garments, {presses} press{'es' if presses > 1 else ''}:", end=" ")
    print(f"{sum(one.is_proved for one in small)} proved in {PROOF_S:.0f} s")
    for name, which in (("proved", True), ("best known", False)):
        gaps = [one.played_s / one.best_s - 1 for one in small if one.is_proved == which]
        if gaps:
            kept = sum(gap <= GAP_GOAL for gap in gaps)
            print(f"  rotation above the {name} end of {len(gaps)}: median {median(gaps):.1%},", end=" ")
            print(f"worst {max(gaps):.1%}; {kept} within 3 %")


if __name__ == "__main__":
    wanted = [int(word) for word in sys.argv[1:]]
    calls()
    against_whole(wanted[0] if wanted else BATCHES)
    for presses in (1, 2):
        against_the_proof(wanted[1] if len(wanted) > 1 else SMALL_BATCHES, presses)
