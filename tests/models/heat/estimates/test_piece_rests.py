"""The rests that a plan asks for, piece by piece, and of which garment sizes they are true."""

from dataclasses import replace

import pytest

from models.geometry import Box
from models.heat.estimates.piece_rests import piece_rests, rests_of_sizes
from models.heat.estimates.rest import rest_of
from models.job.job import Peel, SideInSize
from models.plan.plan import PeelStep, PlanOfSizes
from models.recipe.piece_rest import PieceRest, longest_rest, piece_rest_from_json, piece_rest_to_json
from models.recipe.places import Place
from tests.sample_jobs import BACK, FOAM, box_piece, crew_vest_job, crew_vest_plan, job_of

JOB, PLAN = crew_vest_job(), crew_vest_plan()


def test_only_what_peels_warm_or_cold_rests():
    assert {(rest.piece, rest.until) for rest in piece_rests(JOB, PLAN)} == {("anchor", Peel.COLD)}


def test_a_rest_is_told_for_every_place():
    rests = piece_rests(JOB, PLAN)
    assert [rest.place for rest in rests] == list(Place)
    assert {rest.place: rest.median_s for rest in rests} == {
        place: pytest.approx(rest_of(JOB, PLAN.hits[0], ("anchor",), place).median_s, abs=0.06)
        for place in Place
    }


def test_a_rest_is_that_of_the_hit_that_brings_the_piece_down():
    (rest,) = (rest for rest in piece_rests(JOB, PLAN) if rest.place == Place.TABLE)
    assert rest.seconds.median == pytest.approx(rest_of(JOB, PLAN.hits[0]).median_s, abs=0.06)
    assert rest.low_s < rest.median_s < rest.high_s


def test_what_peels_warm_rests_less_long_than_cold():
    warm = replace(JOB, materials=tuple(replace(m, peel=Peel.WARM) for m in JOB.materials))
    steps = (PeelStep("anchor", Peel.WARM),)
    plan = replace(PLAN, hits=(replace(PLAN.hits[0], peel=steps),))
    assert piece_rests(warm, plan)[0].median_s < piece_rests(JOB, PLAN)[0].median_s


def test_a_rest_that_is_another_in_one_size_names_that_size():
    """In size L the piece lies over the seam, and more of the garment has been heated below it."""
    anchor = box_piece("anchor", FOAM, Box(250, 260, 60, 60))
    in_l = SideInSize("L", BACK.width_mm, BACK.height_mm, BACK.zones, (0.0, -140.0))
    job = job_of((anchor,), (FOAM,), sides=(replace(BACK, sizes=(in_l,)),))
    hit = replace(PLAN.hits[0], lay=("anchor",), count=("anchor",), peel=PLAN.hits[0].peel[1:])
    plan = replace(PLAN, hits=(hit,))
    plan = replace(plan, sizes=(PlanOfSizes(("L",), plan),))
    sizes = [rest.sizes for rest in rests_of_sizes(job, plan) if rest.place == Place.TABLE]
    assert sizes == [("M",), ("L",)]


def test_a_rest_that_all_sizes_share_names_none():
    plan = replace(PLAN, sizes=(PlanOfSizes(("L",), PLAN),))
    assert {rest.sizes for rest in rests_of_sizes(JOB, plan)} == {()}


def test_of_several_pieces_the_one_that_rests_longest_is_told():
    rests = [PieceRest(name, Peel.COLD, 1, s, 300) for name, s in (("a", 50), ("b", 90), ("c", 200))]
    assert longest_rest(rests, ("a", "b"), Peel.COLD, Place.TABLE) == rests[1]
    assert longest_rest(rests, ("a", "b"), Peel.WARM, Place.TABLE) is None
    assert longest_rest(rests, ("a", "b"), Peel.COLD, Place.HUNG) is None
    assert longest_rest([], ("a",), Peel.COLD, Place.TABLE) is None


def test_a_rest_comes_back_from_json_as_it_was():
    rest = PieceRest("anchor", Peel.COLD, 41.8, 70.5, 114.4, ("M", "L"), Place.HUNG)
    assert piece_rest_from_json(piece_rest_to_json(rest)) == rest


def test_a_rest_that_was_stored_without_a_place_is_one_on_the_table():
    stored = piece_rest_to_json(PieceRest("anchor", Peel.COLD, 41.8, 70.5, 114.4))
    del stored["place"]
    assert piece_rest_from_json(stored).place == Place.TABLE
