"""The search for the fewest hits and its proofs, against a plain model of the same rules."""

import json
import os
import subprocess
import sys
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.errors import NoSequenceExistsError, NoSequenceFoundError, NoSoundSequenceError
from models.geometry import Box
from models.plan.plan import Plan, PlanStatus
from models.planning.cpsat.infeasible_subset import never_together
from models.planning.cpsat.solver import Halt
from models.planning.problem.side import side_work
from models.planning.search.solve_job import plan_hits
from tests.plain_model import fewest_hits
from tests.random_jobs import random_job
from tests.rule_checker import broken_rules
from tests.sample_jobs import BACK, FOAM, GLITTER, box_piece, crew_vest_job, job_of

PLAIN = replace(BACK, zones=())
PATIENCE_S = 60
SMALL_JOBS = [(seed, 8, 2) for seed in range(6)] + [(seed, 6, 1) for seed in range(10, 16)]


@pytest.mark.parametrize(("seed", "pieces", "sides"), SMALL_JOBS)
def test_the_proved_number_of_hits_is_that_of_the_plain_model(seed, pieces, sides):
    job = random_job(seed, pieces, sides)

    plan = plan_hits(job)

    reference = fewest_hits(job, len(plan.hits), PATIENCE_S)
    assert reference is not None
    assert reference.is_proved
    assert (plan.status, len(plan.hits)) == (PlanStatus.OPTIMAL, reference.least)


def test_a_base_that_cannot_bear_the_heat_of_what_lies_on_it_leaves_no_plan():
    weak = replace(FOAM, total_s=20)
    base, top = (
        box_piece("base", weak, Box(200, 200, 100, 100)),
        box_piece("top", GLITTER, Box(220, 220, 40, 40)),
    )
    job = job_of([base, top], (weak, GLITTER), sides=(PLAIN,))

    assert fewest_hits(job, 6, PATIENCE_S) is None
    with pytest.raises(NoSoundSequenceError):
        plan_hits(job)


def test_what_may_not_lie_on_glitter_has_no_plan_in_the_plain_model_either():
    base, top = (
        box_piece("base", GLITTER, Box(200, 200, 100, 100)),
        box_piece("top", FOAM, Box(220, 220, 40, 40)),
    )
    job = job_of([base, top], (GLITTER, FOAM), sides=(PLAIN,))

    assert fewest_hits(job, 6, PATIENCE_S) is None
    with pytest.raises(NoSequenceExistsError, match="does not take"):
        plan_hits(job)


@pytest.mark.parametrize(("seed", "pieces", "sides"), [(5, 7, 3), (105, 8, 1), (139, 9, 2)])
def test_pieces_of_which_it_is_proved_that_they_cannot_be_worked_have_no_plan_in_the_plain_model_either(
    seed, pieces, sides
):
    job = random_job(seed, pieces, sides)
    stuck = next(filter(None, (never_together(side_work(job, side), Halt()) for side in job.sides)))

    with pytest.raises(NoSequenceExistsError, match="in however many hits"):
        plan_hits(job)
    assert len(stuck.pieces) <= 4
    assert fewest_hits(stuck.job, 8, PATIENCE_S) is None


@given(seed=st.integers(0, 2**32 - 1), pieces=st.integers(2, 10))
@settings(max_examples=40, deadline=None)
def test_no_side_that_has_a_plan_is_proved_impossible(seed, pieces):
    job = random_job(seed, pieces)
    try:
        plan_hits(job, effort=0.5)
    except NoSoundSequenceError:
        return
    assert never_together(side_work(job, job.sides[0]), Halt()) is None


def test_a_crowded_job_is_planned_the_same_every_time():
    job = random_job(2, pieces=24, sides=2)
    assert plan_hits(job) == plan_hits(job)


def test_a_job_is_planned_the_same_by_every_process_whatever_its_hashes():
    """The seed of the hashes decides in which order a set is gone through."""
    asked = (
        "import json; from models.plan.plan import plan_to_json;"
        "from models.planning.search.solve_job import plan_hits; from tests.random_jobs import random_job;"
        "print(json.dumps(plan_to_json(plan_hits(random_job(3, 24, 2)))))"
    )
    told = {
        subprocess.run(
            [sys.executable, "-c", asked],
            capture_output=True,
            text=True,
            check=True,
            env={**os.environ, "PYTHONHASHSEED": seed},
        ).stdout
        for seed in ("1", "2", "3")
    }
    assert len(told) == 1
    assert json.loads(told.pop())["hits"]


def test_progress_tells_better_and_better_plans_the_last_of_which_is_the_answer():
    job, told = random_job(2, pieces=20, sides=2), list[Plan]()

    plan = plan_hits(job, progress=told.append)

    assert told[-1] == plan
    hits, bounds = [len(p.hits) for p in told], [p.lower_bound for p in told]
    assert hits == sorted(hits, reverse=True)
    assert bounds == sorted(bounds)
    assert all(broken_rules(job, p) == [] for p in told)


def test_planning_that_is_stopped_at_once_gives_the_first_plan():
    job, told = random_job(5, pieces=20, sides=2), list[Plan]()

    plan = plan_hits(job, progress=told.append, stop=lambda: True)

    assert plan.hits == told[0].hits
    assert broken_rules(job, plan) == []


def test_the_proof_that_pieces_cannot_be_worked_ends_when_planning_is_stopped():
    """Stopped before it begins, it proves nothing; let go on, it does."""
    job = random_job(105, 8, 1)
    halt = Halt()
    halt.ask()

    assert never_together(side_work(job, job.sides[0]), Halt()) is not None
    assert never_together(side_work(job, job.sides[0]), halt) is None
    with pytest.raises(NoSequenceFoundError):
        plan_hits(job, stop=lambda: True)


def test_little_effort_is_told_as_feasible_with_a_bound_below():
    job = random_job(5, pieces=12, sides=1)
    plan = plan_hits(job, effort=0.001)
    assert broken_rules(job, plan) == []
    assert plan.lower_bound <= len(plan.hits)
    assert (plan.status == PlanStatus.OPTIMAL) == (plan.lower_bound == len(plan.hits))


def test_the_dwell_of_the_crew_vest_is_proved_the_least():
    plan = plan_hits(crew_vest_job())
    assert (plan.totals.hits, plan.totals.dwell_s) == (2, 20)
    assert plan.proved[:4] == ("hits", "temperature_changes", "side_changes", "dwell_s")


def test_importing_the_planner_does_not_load_the_solver():
    asked = "import sys, models.planning.search.solve_job; print('ortools' in sys.modules)"
    answer = subprocess.run([sys.executable, "-c", asked], capture_output=True, text=True, check=True)
    assert answer.stdout.strip() == "False"
