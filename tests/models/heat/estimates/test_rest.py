"""How long a garment rests: by place, by what lies on it, and until what."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.errors import CalculationError
from models.heat.estimates.rest import rest_of
from models.heat.physics.handling import BARE_HANDS_C, COLD_PEEL_C, METAL_C, WARM_PEEL_C, touchable_c
from models.job.job import Peel
from models.plan.plan import PeelStep
from models.recipe.places import Place
from tests.sample_jobs import FABRIC, FOAM, crew_vest_job, crew_vest_plan

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


def of_foam(thickness_mm, dwell_s=FIRST.dwell_s, place=Place.TABLE):
    """The rest after the vest's first hit, were its foam so thick."""
    thick = tuple(replace(m, thickness_mm=thickness_mm) if m.key == FOAM.key else m for m in JOB.materials)
    return rest_of(replace(JOB, materials=thick), replace(FIRST, dwell_s=dwell_s), ("anchor",), place)


@settings(max_examples=40, deadline=None)
@given(
    st.floats(0.5, 8.0),
    st.floats(1.05, 3.0),
    st.integers(3, 60),
    st.integers(3, 60),
    st.sampled_from(Place),
)
def test_a_thicker_piece_is_never_sooner_in_bare_hands_however_long_it_was_pressed(
    thickness_mm, times, dwell_s, other_s, place
):
    thin = of_foam(thickness_mm, dwell_s, place).bare_hands_s
    thick = of_foam(thickness_mm * times, other_s, place).bare_hands_s
    assert thin.low < thick.low
    assert thin.median < thick.median
    assert thin.high < thick.high


@pytest.mark.parametrize("thickness_mm", [3, 4, 6, 9])
def test_the_hot_face_of_thick_foam_is_not_hidden_by_the_cool_rest_of_it(thickness_mm):
    """After 15 s the foam is cool below and would even out to little; its face is not cool at once."""
    rest = of_foam(thickness_mm)
    assert rest.start_c > 140
    assert rest.warm_s.low > 10
    assert rest.cold_s.median > 60


def test_a_longer_press_rests_longer():
    dwells = (5, 10, 15, 25, 60)
    cold_s = [of_foam(3, dwell_s).cold_s.median for dwell_s in dwells]
    assert cold_s == sorted(cold_s)


def test_a_contact_longer_than_any_listed_has_no_threshold():
    with pytest.raises(CalculationError, match="8 hours"):
        touchable_c(100_000, METAL_C)
