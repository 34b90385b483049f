"""Plans the hits of a job whose garments come in sizes: worked alike where that costs no hit."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import takewhile

from models.job.job import Job
from models.job.sizes import differs_by_size, job_for_size, side_in_size, sizes_of
from models.plan.plan import OBJECTIVES, Hit, Plan, PlanOfSizes, PlanStatus
from models.plan.progress import SoFar
from models.planning.hits.effects import raised_under
from models.planning.search.side_cache import KnownSides, metal_of
from models.planning.search.solve_job import EFFORT, EFFORT_IN_ALL, Stop, plan_hits
from models.planning.sizes.differences import other_pads, other_sequences
from models.planning.sizes.shared_sequence import Layout, Shared, layouts_of, shared_sequences

Progress = Callable[[SoFar], None]


def plan_sizes(
    job: Job, *, progress: Progress | None = None, stop: Stop | None = None, effort: float = EFFORT
) -> Plan:
    """The hits of a garment of the size that most garments have, with the plans of the sizes that differ.

    Each size has the fewest hits that were found for it. `stop` and what is raised are those of `plan_hits`,
    for each of the plans that it takes. The sizes share one effort, as the sides of a job do: `effort` is for
    each side, less where there are many. `progress` is told of each better plan, and for which sizes it is.
    """
    told = progress or (lambda _: None)
    if not (differs_by_size(job) and job.garments):
        return plan_hits(
            job, progress=lambda plan: told(SoFar(plan, is_of_most=True)), stop=stop, effort=effort
        )
    layouts = layouts_of(job)
    share = min(effort, EFFORT_IN_ALL / max(1, _sides_to_search(layouts)))
    shared = shared_sequences(layouts, _Planner(job, layouts, told, stop or (lambda: False), share))
    by_size = {size: plan for each in shared for size, plan in _plans_in(each, job).items()}
    most = by_size[sizes_of(job)[0]]
    alike = [(size, by_size[size]) for size in shared[0].sizes]
    differs = (*other_sequences(shared), *other_pads(most, alike))
    return replace(most, sizes=_others(most, by_size), differs=differs)


@dataclass(frozen=True)
class _Planner:
    """Plans sizes by themselves and together, each time with a share of one effort."""

    job: Job
    layouts: Sequence[Layout]
    progress: Progress
    stop: Stop
    effort: float
    known: KnownSides = field(default_factory=KnownSides)

    def alone(self, layout: Layout) -> Plan:
        later = self.layouts[self.layouts.index(layout) + 1 :]
        to_come = tuple(size for each in later for size in each.sizes)

        def told(plan: Plan) -> None:
            worked = self._as_worked(plan, layout.sizes)
            self.progress(SoFar(worked, layout.sizes, to_come, is_of_most=layout == self.layouts[0]))

        return self._plan(layout.job, told, self.stop)

    def alike(self, job: Job, sizes: tuple[str, ...], most_hits: int) -> Plan:
        """Ends as soon as it is proved that more hits are needed."""
        needed = [0]

        def told(plan: Plan) -> None:
            needed.append(plan.lower_bound)
            self.progress(SoFar(self._as_worked(plan, sizes), sizes, are_alike=True))

        def is_over() -> bool:
            return needed[-1] > most_hits or self.stop()

        return self._plan(job, told, is_over)

    def _plan(self, job: Job, told: Callable[[Plan], None], stop: Stop) -> Plan:
        return plan_hits(job, progress=told, stop=stop, effort=self.effort, known=self.known)

    def _as_worked(self, plan: Plan, sizes: Sequence[str]) -> Plan:
        return _on_its_sides(plan, self.job, sizes[0])


def _sides_to_search(layouts: Sequence[Layout]) -> int:
    """Each side with pieces as often as metal lies elsewhere on it."""
    jobs = [layout.job for layout in layouts]
    worked = {piece.side for piece in jobs[0].pieces}
    return len({metal_of(side) for job in jobs for side in job.sides if side.name in worked})


def _plans_in(shared: Shared, job: Job) -> dict[str, Plan]:
    """For each size the shared sequence on its own sides, with what is proved of it for that size."""
    return {
        size: _on_its_sides(_judged(shared.plan, alone=member.plan), job, size)
        for member in shared.members
        for size in member.layout.sizes
    }


def _on_its_sides(plan: Plan, job: Job, size: str) -> Plan:
    in_size = job_for_size(job, size)
    shifts = {side.name: side_in_size(side, size).shift_mm for side in job.sides}
    moved = [replace(hit, platen=hit.platen.moved(*shifts[hit.side])) for hit in plan.hits]
    return replace(plan, hits=tuple(_padded(hit, in_size) for hit in moved))


def _padded(hit: Hit, job: Job) -> Hit:
    return replace(hit, pad=bool(raised_under(hit, job)))


def _judged(plan: Plan, alone: Plan) -> Plan:
    """A sequence that suits more sizes is proved for one by what is proved of that size alone."""
    is_fewest = len(plan.hits) == alone.lower_bound
    status = PlanStatus.OPTIMAL if is_fewest else PlanStatus.FEASIBLE
    same = takewhile(lambda name: getattr(plan.totals, name) == getattr(alone.totals, name), OBJECTIVES)
    proved = tuple(name for name in same if name in alone.proved)
    if is_fewest and not proved:  # the sequence planned for more sizes has turned out the better one
        proved = ("hits",)
    return replace(
        plan,
        status=status,
        lower_bound=alone.lower_bound,
        proved=proved,
        why_not_fewer=alone.why_not_fewer,
    )


def _others(most: Plan, by_size: Mapping[str, Plan]) -> tuple[PlanOfSizes, ...]:
    """The sizes whose plan is not that of most garments, those with the same one together."""
    others: dict[Plan, list[str]] = {}
    for size, plan in by_size.items():
        if plan != most:
            others.setdefault(plan, []).append(size)
    return tuple(PlanOfSizes(tuple(sizes), plan) for plan, sizes in others.items())
