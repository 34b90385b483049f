"""All that the estimates tell of one closing, for whoever asks why it is like this."""

from dataclasses import replace

import pytest

from models.errors import CalculationError
from models.geometry import Box
from models.heat.estimates.hit_report import hit_report
from models.heat.estimates.rest import rest_of
from models.job.job import Peel
from models.recipe.places import Place
from tests.sample_jobs import FOAM, box_piece, crew_vest_job, crew_vest_plan, job_of

JOB, PLAN = crew_vest_job(), crew_vest_plan()
FIRST, SECOND = PLAN.hits


def test_the_delays_are_those_of_the_piece_that_is_up_to_heat_last():
    report = hit_report(JOB, PLAN, FIRST)
    assert report.heat.slowest is not None
    assert report.heat.slowest.piece == "anchor"
    assert [delay.by for delay in report.delays] == ["pad", "one more cover sheet"]


def test_the_rest_is_that_of_the_carriers_that_come_off():
    assert hit_report(JOB, PLAN, FIRST).rest == rest_of(JOB, FIRST)


def test_the_same_rest_is_told_of_the_other_places():
    report = hit_report(JOB, PLAN, FIRST, Place.HUNG)
    assert report.rest == rest_of(JOB, FIRST, place=Place.HUNG)
    assert report.elsewhere == tuple(rest_of(JOB, FIRST, place=at) for at in (Place.TABLE, Place.PRESS))


def test_after_a_hit_with_nothing_to_peel_the_garment_still_has_to_cool_before_it_is_handled():
    rest = hit_report(JOB, PLAN, SECOND).rest
    assert rest.until == Peel.NONE
    assert rest.bare_hands_s.median > 0


def hurried():
    """A foam that is pressed for eight seconds, in a hit of its own."""
    brief = replace(FOAM, least_s=8)
    job = job_of((box_piece("anchor", brief, Box(250, 260, 60, 60)),), (brief,))
    hit = replace(FIRST, lay=("anchor",), count=("anchor",), peel=(), dwell_s=8)
    return job, replace(PLAN, hits=(hit,))


def test_what_gets_too_little_is_told_with_the_hit_that_counts_for_it():
    job, plan = hurried()
    assert [finding.piece for finding in hit_report(job, plan, plan.hits[0]).findings] == ["anchor"]


def test_a_press_again_is_judged_by_itself_and_not_by_the_plan():
    job, plan = hurried()
    again = replace(plan.hits[0], n=2, lay=())
    report = hit_report(job, plan, again)
    assert (report.is_planned, report.findings) == (False, ())


def test_a_hit_that_presses_nothing_has_nothing_to_tell():
    with pytest.raises(CalculationError, match="nothing is peeled"):
        hit_report(JOB, PLAN, replace(SECOND, count=(), touch_again=()))
