"""The judge judged, on what a plan says of itself: its lists, its totals, how sure it is."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import pytest

from models.job.job import Peel
from models.plan.plan import PeelStep, PlanStatus
from tests.rule_checker import broken_rules
from tests.sample_jobs import (
    crew_vest_job,
    crew_vest_plan,
)
from tests.small_plans import (
    a_plan,
    assert_caught,
    assert_only_caught,
    lay_badge,
    peels,
    twill_alone,
)


def test_the_sample_plan_breaks_no_rule() -> None:
    assert broken_rules(crew_vest_job(), crew_vest_plan()) == []


def test_one_piece_pressed_once_breaks_no_rule() -> None:
    assert broken_rules(twill_alone(), a_plan(lay_badge())) == []


@pytest.mark.parametrize(
    ("place", "changes", "words"),
    [
        (0, {"n": 2}, ("numbered",)),
        (0, {"count": ("life-ring", "anchor")}, ("hit 1", "wave", "count")),
        (1, {"count": ("life-ring", "anchor")}, ("hit 2", "anchor", "count")),
        (1, {"count": ("life-ring", "life-ring")}, ("hit 2", "twice in count")),
        (1, {"touch_again": ("anchor",)}, ("hit 2", "touch_again", "wave")),
        (1, {"touch_again": ("anchor", "wave", "life-ring")}, ("hit 2", "touch_again", "life-ring")),
        (0, {"peel": peels("wave", Peel.HOT)}, ("hit 1", "to peel", "anchor")),
        (1, {"peel": peels("wave", Peel.HOT)}, ("hit 2", "to peel", "wave")),
        (0, {"peel": (PeelStep("anchor", Peel.COLD), PeelStep("wave", Peel.HOT))}, ("hit 1", "order")),
        (0, {"peel": (PeelStep("wave", Peel.HOT), PeelStep("anchor", Peel.WARM))}, ("hit 1", "anchor warm")),
        (0, {"why": ()}, ("hit 1", "why")),
        (0, {"lay": ("life-ring", "anchor", "buoy")}, ("hit 1", "buoy", "does not have")),
        (0, {"side": "hood"}, ("hit 1", "hood", "does not have")),
    ],
)
def test_a_list_that_says_something_else_than_what_happens_is_caught(
    place: int, changes: dict[str, Any], words: Sequence[str]
) -> None:
    plan = crew_vest_plan()
    hits = [replace(hit, **changes) if k == place else hit for k, hit in enumerate(plan.hits)]
    assert_caught(crew_vest_job(), replace(plan, hits=tuple(hits)), *words)


@pytest.mark.parametrize("name", ["hits", "temperature_changes", "side_changes", "dwell_s", "reheats"])
def test_a_total_that_is_off_by_one_is_caught(name: str) -> None:
    plan = crew_vest_plan()
    off = replace(plan.totals, **{name: getattr(plan.totals, name) + 1})
    assert_only_caught(crew_vest_job(), replace(plan, totals=off), "totals")


def test_a_lower_bound_above_the_hits_is_caught() -> None:
    plan = replace(crew_vest_plan(), status=PlanStatus.FEASIBLE, lower_bound=3)
    assert_only_caught(crew_vest_job(), plan, "lower bound 3")


def test_an_optimal_plan_whose_bound_lies_below_its_hits_is_caught() -> None:
    assert_only_caught(crew_vest_job(), replace(crew_vest_plan(), lower_bound=1), "optimal")
