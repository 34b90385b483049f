"""The plan says why it has no fewer hits: pieces that by themselves take as many."""

from dataclasses import replace

import pytest

from models.geometry import Box
from models.job.job import Job
from models.plan.plan import PlanStatus
from models.planning.search.solve_job import plan_hits
from tests.plain_model import fewest_hits
from tests.random_jobs import random_job
from tests.sample_jobs import BACK, FOAM, GLITTER, TWILL, box_piece, job_of

PLAIN = replace(BACK, zones=())
PATIENCE_S = 60


def job_on_plain_back(*pieces) -> Job:
    materials = {material.key: material for _, material, _ in pieces}
    return job_of([box_piece(*piece) for piece in pieces], tuple(materials.values()), sides=(PLAIN,))


def why(*pieces) -> str:
    (told,) = plan_hits(job_on_plain_back(*pieces)).why_not_fewer
    return told


def test_two_pieces_further_apart_than_the_platen_force_two_hits() -> None:
    assert why(
        ("sun", FOAM, Box(10, 10, 40, 40)),
        ("star", FOAM, Box(60, 10, 40, 40)),
        ("moon", FOAM, Box(500, 640, 40, 40)),
    ) == (
        "back: star and moon by themselves take 2 hits. star and moon do not fit under the platen together."
    )


def test_a_piece_that_lies_on_another_forces_a_second_hit() -> None:
    told = why(
        ("disc", FOAM, Box(200, 300, 100, 60)),
        ("spark", GLITTER, Box(220, 310, 20, 20)),
        ("leaf", FOAM, Box(320, 300, 20, 20)),
    )
    assert told.startswith("back: disc and spark by themselves take 2 hits. spark waits until disc is down")


def test_pieces_of_which_no_temperature_suits_both_force_two_hits() -> None:
    hot = replace(TWILL, key="hot", set_c=158, lowest_c=157, hottest_c=160)
    told = why(("disc", TWILL, Box(200, 300, 40, 40)), ("leaf", hot, Box(260, 300, 40, 40)))
    assert told.endswith("disc and leaf take no setting in common.")


def test_one_piece_larger_than_the_platen_forces_its_parts() -> None:
    told = why(("wave", FOAM, Box(10, 300, 500, 60)), ("leaf", FOAM, Box(100, 200, 20, 20)))
    assert told == (
        "back: wave by itself takes 2 hits. wave is larger than the platen and pressed in 2 parts."
    )


@pytest.mark.parametrize("seed", range(4))
def test_the_named_pieces_take_as_many_hits_in_the_plain_model_and_are_fewer_than_all(seed: int) -> None:
    job = random_job(seed, pieces=8)
    plan = plan_hits(job)
    named = plan.why_not_fewer[0].split(" by it")[0].split(" by them")[0]
    forcing = tuple(piece for piece in job.pieces if piece.label in named.replace(",", " ").split())

    reference = fewest_hits(replace(job, pieces=forcing), len(plan.hits), PATIENCE_S)

    assert plan.status == PlanStatus.OPTIMAL
    assert len(forcing) < len(job.pieces)
    assert reference is not None
    assert reference.is_proved
    assert reference.least == plan.lower_bound


def test_a_plan_that_is_stopped_says_that_its_bound_counts_all_pieces() -> None:
    plan = plan_hits(random_job(0, pieces=20), stop=lambda: True)
    assert plan.why_not_fewer == (
        f"back: {plan.lower_bound} hits at the least, counted over all its pieces.",
    )
