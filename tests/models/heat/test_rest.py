"""How long a garment rests: by place, by what lies on it, and until what."""

from dataclasses import replace

import numpy as np
import pytest

from models.errors import CalculationError
from models.heat.cooling import cool_down
from models.heat.handling import BARE_HANDS_C, COLD_PEEL_C, METAL_C, WARM_PEEL_C, touchable_c
from models.heat.places import Place
from models.heat.rest import rest_of
from models.job.job import Peel
from models.planning.plan import PeelStep
from tests.sample_jobs import FABRIC, crew_vest_job, crew_vest_plan

JOB = crew_vest_job()
FIRST, SECOND = crew_vest_plan().hits


def test_the_piece_that_peels_cold_decides_how_long_the_vest_rests():
    rest = rest_of(JOB, FIRST)
    assert (rest.piece, rest.until) == ("anchor", Peel.COLD)
    assert rest.low_s < rest.median_s < rest.high_s
    assert rest.seconds == rest.cold_s


def test_a_cold_peel_of_foam_takes_from_half_a_minute_to_three_minutes():
    """Common practice, no source."""
    assert 30 < rest_of(JOB, FIRST).median_s < 180


def test_what_peels_hot_does_not_rest():
    rest = rest_of(JOB, FIRST, pieces=("wave",))
    assert (rest.until, rest.low_s, rest.high_s) == (Peel.HOT, 0, 0)


def test_it_is_warm_before_it_may_be_held_and_held_before_it_is_cold():
    rest = rest_of(JOB, FIRST)
    assert rest.warm_s.median < rest.bare_hands_s.median < rest.cold_s.median
    assert WARM_PEEL_C > BARE_HANDS_C > COLD_PEEL_C


def test_left_on_the_press_it_cools_slowest():
    hung, table, press = (rest_of(JOB, FIRST, place=place).median_s for place in Place)
    assert press > 1.4 * hung
    assert press > 1.4 * table


def test_in_a_warm_room_it_rests_longer():
    assert rest_of(JOB, FIRST, room_c=30).median_s > rest_of(JOB, FIRST).median_s


def test_in_a_room_that_is_itself_too_warm_it_never_gets_cold():
    with pytest.raises(CalculationError, match="does not cool to 43"):
        rest_of(JOB, FIRST, room_c=45)


def test_heavier_cloth_rests_longer():
    heavy = replace(JOB, fabric=replace(FABRIC, grams_per_m2=480))
    assert rest_of(heavy, FIRST).median_s > rest_of(JOB, FIRST).median_s


def test_the_curve_falls_from_the_opening_until_even_the_slowest_garment_is_cold():
    rest = rest_of(JOB, FIRST)
    first, last = rest.curve[0], rest.curve[-1]
    assert (first.at_s, last.at_s) == (0, pytest.approx(rest.cold_s.high))
    assert first.likely_c == pytest.approx(rest.start_c)
    likely_c = [point.likely_c for point in rest.curve]
    assert likely_c == sorted(likely_c, reverse=True)
    assert last.high_c == pytest.approx(COLD_PEEL_C)


def test_a_garment_that_is_cold_early_goes_on_cooling_on_the_curve():
    last = rest_of(JOB, FIRST).curve[-1]
    assert 22 < last.low_c < last.likely_c < COLD_PEEL_C


def test_after_a_hit_with_nothing_to_peel_a_piece_has_to_be_named():
    with pytest.raises(CalculationError, match="name the pieces"):
        rest_of(JOB, SECOND)


def test_a_garment_that_is_hardly_warm_need_not_rest():
    lukewarm = replace(FIRST, temperature_c=35, peel=(PeelStep("anchor", Peel.COLD),))
    rest = rest_of(JOB, lukewarm)
    assert (rest.low_s, rest.high_s) == (0, 0)


def test_halving_what_it_holds_halves_the_time_it_takes():
    def loss(cloth_c):
        return 20.0 * (cloth_c - 22.0)

    heavy, light = (cool_down(120.0, 43.0, capacity, loss).seconds_to(43.0) for capacity in (1000.0, 500.0))
    assert heavy == pytest.approx(2 * light)


def test_a_sheet_that_loses_nothing_is_refused():
    with pytest.raises(CalculationError, match="does not cool"):
        cool_down(120.0, 43.0, 1000.0, np.zeros_like)


def test_no_course_tells_of_a_temperature_it_did_not_reach():
    course = cool_down(120.0, 60.0, 1000.0, lambda cloth_c: cloth_c)
    with pytest.raises(CalculationError, match="does not cool to 43"):
        course.seconds_to(43.0)


def test_a_contact_longer_than_any_listed_has_no_threshold():
    with pytest.raises(CalculationError, match="8 hours"):
        touchable_c(100_000, METAL_C)
