"""A plan and a review in words."""

from dataclasses import replace

import pytest

from floorapp.in_words import plan_in_words, review_in_words
from models.garment.cycle import State
from models.garment.events import FindingKind, Found
from models.intervals import Interval
from models.job.job import Peel
from models.learning.lift_rates import LiftRate
from models.plan.plan import PlanStatus
from models.quality.key_figures import KeyFigures
from models.quality.review import GarmentLine, LiftsOnFabric, Review, Tally
from models.recipe.piece_rest import PieceRest
from models.recipe.places import Place
from tests.sample_jobs import crew_vest_job, crew_vest_plan


def reviewed(figures: KeyFigures) -> Review:
    line = GarmentLine(
        1,
        "K7QAV9HN",
        "M",
        "Ines Okafor",
        "4",
        State.COMPLETE,
        3,
        1,
        (Found(FindingKind.LIFT, ("wave",)),),
        45,
        None,
        None,
    )
    return Review(
        (line,), {State.COMPLETE: 1, State.HELD: 0}, {"M": {State.COMPLETE: 1}}, figures,
        (Tally("lift", 1),), (Tally("Glitter film", 1),), (Tally("back, plain cloth", 1),),
    )  # fmt: skip


def test_the_plan_says_what_it_is_for_and_that_it_is_proved():
    told = plan_in_words(crew_vest_job(), crew_vest_plan())
    heading, proof = told.splitlines()[:2]
    assert heading == "Lightship crew vests (LC-0147): 2 garments, 2 hits each"
    assert proof == "The plan has 2 hits; fewer are proved impossible."


def test_a_plan_that_is_not_proved_says_what_is_known():
    plan = replace(crew_vest_plan(), status=PlanStatus.FEASIBLE, lower_bound=1)
    assert "no plan has fewer than 1" in plan_in_words(crew_vest_job(), plan)


def test_a_hit_says_what_to_lay_how_to_press_what_to_peel_and_why():
    told = plan_in_words(crew_vest_job(), crew_vest_plan())
    first = told.split("\n\n")[1]
    assert first.splitlines() == [
        "Hit 1 of 2, back: 149 °C (300 °F), 15 s, medium pressure, pad underneath",
        "  platen       400 × 500 mm, corner at 80, 70 mm",
        "  lay          Printed twill: Life ring",
        "  lay          Raised foam film: anchor",
        "  lay          Glitter film: wave",
        "  peel hot     wave",
        "  peel cold    anchor",
        "  why          All three pieces share one setting for the wave's longest 15 s.",
    ]


def test_a_hit_says_how_long_what_it_peels_rests_and_that_it_is_an_estimate():
    rests = (
        PieceRest("anchor", Peel.COLD, 42.0, 70.5, 116.0),
        PieceRest("wave", Peel.WARM, 20.0, 33.0, 49.0, ("L",)),
    )
    told = plan_in_words(crew_vest_job(), crew_vest_plan(), (), rests)
    assert "  rest         cold after about 70 s (42 to 116) flat on the table, an estimate" in told
    assert "warm after" not in told  # the plan that is printed is that of size M


def test_a_hit_says_its_rest_on_the_table_and_hung():
    table = PieceRest("anchor", Peel.COLD, 42.0, 70.0, 116.0)
    rests = (table, replace(table, median_s=85.0, place=Place.HUNG))
    told = plan_in_words(crew_vest_job(), crew_vest_plan(), (), rests)
    assert "cold after about 70 s (42 to 116) flat on the table, about 85 s (42 to 116) hung, an" in told


def test_a_later_hit_names_what_it_heats_again_and_its_cover():
    second = plan_in_words(crew_vest_job(), crew_vest_plan()).split("\n\n")[2]
    assert "cover sheet on top" in second
    assert "  lay " not in second
    assert "  heats again  anchor; wave" in second


def test_the_review_says_figures_with_their_interval():
    told = review_in_words("Vests (LC-0147)", reviewed(KeyFigures(263, 81, 5, 2)))
    assert "first pass   30.8%, 81 of 263 inspected (95 % sure: 26% to 37%)" in told


def test_the_review_says_how_often_what_was_peeled_so_lifted():
    rate = LiftRate("Raised foam film", "canvas", Peel.WARM, 1, 10, Interval(0.018, 0.404))
    told = review_in_words("Vests", replace(reviewed(KeyFigures(1, 1, 0, 0)), lift_rates=(rate,)))
    assert "lifted       Raised foam film, peeled warm: 1 of 10, 10% (95 % sure: 2% to 40%)" in told


@pytest.mark.parametrize(("batches", "is_told"), [(1, False), (3, True)])
def test_lifts_over_all_batches_on_the_fabric_are_told_where_there_are_several(batches, is_told):
    rate = LiftRate("Raised foam film", "canvas", Peel.WARM, 1, 10, Interval(0.018, 0.404))
    lifts = LiftsOnFabric("canvas", batches, (rate,))
    told = review_in_words("Vests", replace(reviewed(KeyFigures(1, 1, 0, 0)), lifts_on_fabric=lifts))
    assert (f"canvas, over {batches} batches:\n  lifted       Raised foam" in told) is is_told


def test_a_figure_of_nothing_is_no_figure():
    told = review_in_words("Vests (LC-0147)", reviewed(KeyFigures(0, 0, 0, 0)))
    assert told.count("no figure yet") == 3


def test_the_review_ranks_findings_and_lists_garments_under_spoken_codes():
    told = review_in_words("Vests (LC-0147)", reviewed(KeyFigures(1, 0, 1, 0))).splitlines()
    assert "  found        lift 1" in told
    assert "  where        back, plain cloth 1" in told
    assert told[-1] == "   1  K7QA V9HN  M     complete   4 Ines Okafor"
