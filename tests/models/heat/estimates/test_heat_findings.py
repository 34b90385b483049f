"""Which pieces of a plan get too little time at heat, and how many seconds they miss."""

from dataclasses import replace

import pytest

from models.geometry import Box
from models.heat.estimates.heat_findings import findings_of_sizes, heat_findings
from models.heat.estimates.hit_heat import NEEDED_AT_HEAT_S, hit_heat
from models.job.job import Job, SideInSize, Zone, ZoneKind
from models.plan.plan import Plan, PlanOfSizes
from models.planning.search.solve_job import plan_hits
from models.recipe.heat_finding import NEVER_S
from tests.sample_jobs import BACK, FOAM, TWILL, box_piece, crew_vest_job, crew_vest_plan, job_of

PLAN = crew_vest_plan()
FIRST, SECOND = PLAN.hits
BRIEF = replace(FOAM, least_s=8, longest_s=25)
HURRIED = job_of((box_piece("anchor", BRIEF, Box(250, 260, 60, 60)),), (BRIEF,))


def plan_of(*dwells_s: int, temperature_c: float = 149) -> Plan:
    """The anchor under so many closings."""
    one = replace(FIRST, lay=("anchor",), count=("anchor",), peel=(), temperature_c=temperature_c)
    hits = tuple(replace(one, n=n, dwell_s=dwell_s) for n, dwell_s in enumerate(dwells_s, start=1))
    again = tuple(replace(hit, lay=()) for hit in hits[1:])
    return replace(PLAN, hits=(hits[0], *again))


def finding_of(job: Job, plan: Plan):
    (finding,) = heat_findings(job, plan)
    return finding


def test_the_sample_vests_get_enough():
    assert heat_findings(crew_vest_job(), PLAN) == ()


def test_a_foam_pressed_for_eight_seconds_misses_some():
    finding = finding_of(HURRIED, plan_of(8))
    assert finding.piece == "anchor"
    assert 1 < finding.missing_s < 15
    assert "anchor" in finding.text
    assert "estimate" in finding.text


def test_the_seconds_missing_are_just_those_that_mend_it():
    missing_s = finding_of(HURRIED, plan_of(8)).missing_s
    (piece,) = hit_heat(HURRIED, replace(plan_of(8).hits[0], dwell_s=8 + missing_s)).pieces
    assert piece.at_heat_s.median == pytest.approx(NEEDED_AT_HEAT_S)


def test_two_short_closings_do_not_make_one_long_one():
    """Each starts cold again: twice seven seconds heat less than fourteen in one go."""
    patient = replace(BRIEF, least_s=14)
    job = job_of((box_piece("anchor", patient, Box(250, 260, 60, 60)),), (patient,))
    assert heat_findings(job, plan_of(14)) == ()
    assert finding_of(job, plan_of(7, 7)).missing_s > 0


def test_the_closing_that_is_mended_soonest_is_named():
    patient = replace(BRIEF, least_s=14)
    job = job_of((box_piece("anchor", patient, Box(250, 260, 60, 60)),), (patient,))
    assert finding_of(job, plan_of(5, 9)).hit_n == 2


def test_a_finding_is_sure_where_even_the_quick_end_of_the_band_is_short():
    in_a_rush = replace(BRIEF, least_s=4)
    job = job_of((box_piece("anchor", in_a_rush, Box(250, 260, 60, 60)),), (in_a_rush,))
    assert finding_of(job, plan_of(4)).is_sure
    assert not finding_of(HURRIED, plan_of(8)).is_sure


def test_a_piece_too_thick_to_be_heated_through_is_told_as_such():
    cushion = replace(BRIEF, thickness_mm=40)
    job = job_of((box_piece("anchor", cushion, Box(250, 260, 60, 60)),), (cushion,))
    finding = finding_of(job, plan_of(8))
    assert finding.missing_s == NEVER_S
    assert "no dwell would do" in finding.text


def test_of_a_piece_in_two_parts_the_part_with_the_least_heat_decides():
    """Its right half gets its seconds in one go, its left half in two."""
    wide = replace(BRIEF, least_s=14)
    job = job_of((box_piece("band", wide, Box(0, 260, 560, 60)),), (wide,))
    right = replace(FIRST, platen=Box(270, 70, 400, 500), lay=("band",), count=("band",), peel=(), dwell_s=14)
    left = replace(right, platen=Box(-110, 70, 400, 500), lay=(), dwell_s=7)
    plan = replace(PLAN, hits=(right, replace(left, n=2), replace(left, n=3)))
    assert finding_of(job, plan).hit_n in {2, 3}
    assert heat_findings(job, replace(plan, hits=(right, replace(left, n=2, dwell_s=14)))) == ()


def test_seconds_divided_over_two_hits_are_judged_under_the_cover_sheet_of_each():
    """Nine and six seconds would be enough if the second hit were bare."""
    felt = replace(TWILL, cover=True, carrier=False, least_s=15, longest_s=9, total_s=30)
    job = job_of((box_piece("badge", felt, Box(250, 260, 60, 60)),), (felt,))
    plan = plan_hits(job)
    first, second = plan.hits
    assert heat_findings(job, replace(plan, hits=(first, replace(second, cover=False)))) == ()
    assert finding_of(job, plan).missing_s > 0


SEAM_OVER_THE_ANCHOR = Zone(ZoneKind.RAISED, Box(0, 280, 560, 12), "yoke seam")


def test_where_the_seam_of_one_size_runs_under_the_piece_only_that_size_is_told():
    """Eleven seconds are enough on plain cloth, and too few over the seam of size L."""
    patient = replace(BRIEF, least_s=14)
    in_l = SideInSize("L", BACK.width_mm, BACK.height_mm, (SEAM_OVER_THE_ANCHOR,), (0.0, 0.0))
    anchor = box_piece("anchor", patient, Box(250, 260, 60, 60))
    job = job_of((anchor,), (patient,), sides=(replace(BACK, sizes=(in_l,)),))
    flat = replace(plan_of(11), hits=(replace(plan_of(11).hits[0], pad=False),))
    plan = replace(flat, sizes=(PlanOfSizes(("L",), plan_of(11)),))
    assert [finding.sizes for finding in findings_of_sizes(job, plan)] == [("L",)]


def test_what_all_sizes_miss_names_none_of_them():
    plan = replace(plan_of(8), sizes=(PlanOfSizes(("L",), plan_of(8)),))
    assert [finding.sizes for finding in findings_of_sizes(HURRIED, plan)] == [()]


def test_what_is_missing_is_rounded_up_and_what_is_there_down():
    finding = finding_of(HURRIED, plan_of(8))
    assert f"for about {int(finding.at_heat_s)} s of the 3 s" in finding.text
    assert f"about {int(finding.missing_s) + 1} s more in hit 1" in finding.text


def test_no_dwell_is_changed():
    plan = plan_of(8)
    heat_findings(HURRIED, plan)
    assert [hit.dwell_s for hit in plan.hits] == [8]
