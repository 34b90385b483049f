"""What a hit is expected to take before anything was measured."""

from dataclasses import replace

from models.job.job import Peel
from models.plan.plan import PeelStep
from models.rotation.problem.shop import Setting
from models.rotation.times.expected import CHECK_PIECE_S, LAY_PIECE_S, PEEL_S, PUT_IN_S, Waits, expected_visit
from tests.sample_jobs import crew_vest_job, crew_vest_plan

JOB = crew_vest_job()
FIRST, SECOND = crew_vest_plan().hits
RESTS = Waits(warm_s=40, cold_s=60)
HALF_HANDLING_S = JOB.press.handling_s / 2


def test_laying_takes_the_loading_every_piece_and_pad_and_cover():
    assert FIRST.pad
    assert not FIRST.cover
    assert expected_visit(JOB, FIRST, RESTS).lay_s == HALF_HANDLING_S + 3 * LAY_PIECE_S + PUT_IN_S
    assert expected_visit(JOB, SECOND, RESTS).lay_s == HALF_HANDLING_S + 2 * PUT_IN_S


def test_hot_peels_are_made_at_the_press_and_cold_ones_after_the_rest():
    visit = expected_visit(JOB, FIRST, RESTS)
    assert visit.off_s == HALF_HANDLING_S + PEEL_S
    assert visit.off_s + visit.rest_s == 60
    assert visit.finish_s == PEEL_S + 3 * CHECK_PIECE_S


def test_warm_peels_wait_from_the_opening_on_off_the_press():
    warm = replace(FIRST, peel=(PeelStep("wave", Peel.HOT), PeelStep("anchor", Peel.WARM)))
    visit = expected_visit(JOB, warm, RESTS)
    assert visit.off_s == HALF_HANDLING_S + PEEL_S
    assert visit.off_s + visit.rest_s == 40
    assert visit.finish_s == PEEL_S + 3 * CHECK_PIECE_S


def test_a_wait_that_is_over_before_the_garment_is_off_costs_nothing():
    warm = replace(FIRST, peel=(PeelStep("anchor", Peel.WARM),))
    assert expected_visit(JOB, warm, Waits(warm_s=1)).rest_s == 0


def test_what_peels_warm_and_cold_waits_for_both():
    both = replace(FIRST, peel=(PeelStep("wave", Peel.WARM), PeelStep("anchor", Peel.COLD)))
    visit = expected_visit(JOB, both, RESTS)
    assert visit.off_s + visit.rest_s == 60  # both count from the opening
    assert visit.finish_s == 2 * PEEL_S + 3 * CHECK_PIECE_S


def test_without_warm_or_cold_peels_nothing_rests():
    assert expected_visit(JOB, SECOND, RESTS).rest_s == 0


def test_the_press_and_its_seconds_are_those_of_the_hit():
    visit = expected_visit(JOB, FIRST, RESTS)
    assert (visit.setting, visit.dwell_s) == (Setting(FIRST.press, 149), 15)


def test_a_hit_that_counts_for_nothing_is_looked_at_all_the_same():
    assert expected_visit(JOB, replace(SECOND, count=()), RESTS).finish_s == CHECK_PIECE_S
