"""The best plan of a job so far, from what is heard of each of its sides."""

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from models.job.job import Job
from models.plan.plan import Hit, Plan, PlanStatus
from models.planning.assembly.hit_builder import totals_of
from models.planning.search.bound_reasons import why_so_many
from models.planning.search.incumbent import SideResult
from models.planning.search.lower_bounds import Costs, costs_of, least_costs, proved_of
from models.planning.search.plan_builder import PlanWriter

if TYPE_CHECKING:
    from models.planning.search.changeover_search import Coursed

LAST_STEPS = 3
"""Of each side: its fewest hits, as many of less dwell, and the pieces that force them."""


class BestPlan:
    """`plan` is None while one of the sides has no sequence."""

    def __init__(self, job: Job, results: Sequence[SideResult]) -> None:
        self.job = job
        self.first = list(results)
        self.results = list(results)
        self._least_together: Costs | None = None
        self._told: dict[tuple[str, int, tuple[int, ...]], str] = {}
        self._writer = PlanWriter()
        self.plan = self._planned(results)
        self._heard: list[list[SideResult]] = [[] for _ in results]

    def hear(self, side: int, step: SideResult) -> bool:
        """Takes the step's sequence if the plan is as good with it, and its bound anyway.

        Gives whether the plan is another one now.
        """
        self._heard[side].append(step)
        before = self.plan
        self._take(side, step)
        return self.plan != before

    def settle(self) -> bool:
        """Takes what was heard once more, side by side: which side was done first must not matter."""
        before, self.results = self.plan, list(self.first)
        self.plan = self._planned(self.results)
        for side, heard in enumerate(self._heard):
            for step in heard[-LAST_STEPS:]:
                self._take(side, step)
        return self.plan != before

    def go_along(self, coursed: "Coursed") -> bool:
        """Takes the sides together as they come along the best courses, and how little that can cost."""
        before, self._least_together = self.plan, coursed.least
        if self.plan is not None:
            self.plan = self._judged(self.results, self.plan.hits)
        for results in coursed.found:
            self._compare(list(results), self._planned(results))
        return self.plan != before

    @property
    def least(self) -> Costs:
        """What no plan can cost less than, as far as that is known."""
        return self._least(self.results)

    def _take(self, side: int, step: SideResult) -> None:
        known = self.results[side]
        taken = [step if k == side else result for k, result in enumerate(self.results)]
        if self.plan is None:
            self.results, self.plan = taken, self._planned(taken)
        elif step.closings == known.closings:
            self.results, self.plan = taken, self._judged(taken, self.plan.hits)
        elif not self._compare(taken, self._planned(taken)):
            self.results[side] = replace(step, closings=known.closings)
            self.plan = self._judged(self.results, self.plan.hits)

    def _compare(self, taken: list[SideResult], plan: Plan | None) -> bool:
        """Takes the sides' results if the plan is as good with them; gives whether it is."""
        is_as_good = self.plan is None or (
            plan is not None and costs_of(plan.totals) <= costs_of(self.plan.totals)
        )
        if is_as_good:
            self.results, self.plan = taken, plan
        return is_as_good

    def _planned(self, results: Sequence[SideResult]) -> Plan | None:
        hits = self._writer.hits(results)
        return None if hits is None else self._judged(results, hits)

    def _judged(self, results: Sequence[SideResult], hits: tuple[Hit, ...]) -> Plan:
        """The hits with what is proved of them."""
        least, totals = self._least(results), totals_of(hits)
        status = PlanStatus.OPTIMAL if len(hits) == least.hits else PlanStatus.FEASIBLE
        proved = proved_of(self.job, totals, least)
        return Plan(status, least.hits, hits, totals, proved, tuple(map(self._why_so_many, results)))

    def _least(self, results: Sequence[SideResult]) -> Costs:
        """Each of the two is a cost that no plan goes below, and so the higher one is."""
        apart = least_costs(self.job, results)
        return apart if self._least_together is None else max(apart, self._least_together)

    def _why_so_many(self, result: SideResult) -> str:
        """Told once for each bound that is proved on a side, and for each few pieces that force it."""
        known = (result.work.side.name, result.bound, result.forcing)
        if known not in self._told:
            self._told[known] = why_so_many(result)
        return self._told[known]
