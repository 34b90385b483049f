"""What the floor teaches about a rest, and from when on it stands in place of the estimate."""

import math
from random import Random

import pytest

from models.errors import CalculationError
from models.learning.learned import (
    FEWEST,
    Belief,
    RestKey,
    RestObservation,
    Told,
    beliefs_from,
    factor_of,
    learn,
    learned_rest,
)
from models.ranges import Estimate
from tests.held_clock import MORNING

FOAM_ON_VESTS = RestKey("raised-foam", "quilted polyamide", "on a table")
ESTIMATE = Estimate(42.0, 71.0, 116.0)


def seen(rested_s: float, told: Told = Told.READY, key: RestKey = FOAM_ON_VESTS) -> RestObservation:
    return RestObservation(key, ESTIMATE.median, rested_s, told, MORNING)


def taught(*rested_s: float) -> Belief:
    return beliefs_from(seen(seconds) for seconds in rested_s)[FOAM_ON_VESTS]


def test_before_anything_was_seen_the_estimate_stands():
    rest = learned_rest(ESTIMATE, Belief())
    assert (rest.seconds, rest.is_learned, rest.factor.n) == (ESTIMATE, False, 0)


def test_two_rests_do_not_outweigh_the_estimate_yet():
    assert not learned_rest(ESTIMATE, taught(*[100.0] * (FEWEST - 1))).is_learned


def test_after_some_rests_of_one_kind_they_stand_in_its_place_with_their_number():
    rest = learned_rest(ESTIMATE, taught(100.0, 104.0, 98.0, 101.0, 97.0))
    assert rest.is_learned
    assert rest.factor.n == 5
    assert 90 < rest.seconds.median < 100
    assert rest.seconds.low < rest.seconds.median < rest.seconds.high


def test_the_learned_band_is_the_narrower_one():
    rest = learned_rest(ESTIMATE, taught(*[100.0] * 5))
    assert rest.seconds.high / rest.seconds.low < ESTIMATE.high / ESTIMATE.low


def test_rests_that_scatter_more_than_the_estimate_do_not_replace_it():
    assert not learned_rest(ESTIMATE, taught(20.0, 300.0, 25.0, 240.0, 15.0)).is_learned


def test_the_factor_nears_what_is_seen_again_and_again():
    factor = factor_of(taught(*[142.0] * 60))
    assert factor.median == pytest.approx(2.0, rel=0.02)
    assert factor.low < factor.median < factor.high
    assert factor.high / factor.low < 1.1


def test_a_garment_that_lay_long_and_peeled_well_teaches_nothing():
    assert learn(Belief(), seen(600.0, Told.WELL)) == Belief()


def test_a_garment_that_was_peeled_soon_and_stayed_down_shortens_the_rest():
    assert factor_of(learn(Belief(), seen(40.0, Told.WELL))).median < 1


def test_a_lift_after_a_long_rest_lengthens_it():
    assert factor_of(learn(Belief(), seen(120.0, Told.LIFTED))).median > 1


def test_a_lift_after_a_rest_that_was_known_to_be_too_short_teaches_nothing():
    assert learn(Belief(), seen(30.0, Told.LIFTED)) == Belief()


@pytest.mark.parametrize("rested_s", [50.0, 90.0])
def test_what_is_known_from_both_sides_counts_like_what_was_called_ready(rested_s):
    assert learn(Belief(), seen(rested_s, Told.BETWEEN)) == learn(Belief(), seen(rested_s, Told.READY))


def test_each_material_fabric_and_place_learns_for_itself():
    hung = RestKey("raised-foam", "quilted polyamide", "hung")
    beliefs = beliefs_from([seen(100.0), seen(50.0, key=hung)])
    assert beliefs[FOAM_ON_VESTS].mean > 0 > beliefs[hung].mean
    assert (beliefs[FOAM_ON_VESTS].n, beliefs[hung].n) == (1, 1)


def test_the_order_of_rests_called_ready_does_not_matter():
    assert taught(60.0, 100.0, 80.0).mean == pytest.approx(taught(100.0, 80.0, 60.0).mean)


def test_before_any_observation_single_rests_scatter_by_a_fifth_and_the_factor_by_a_third():
    assert Belief().scatter == pytest.approx(0.2)
    assert Belief().doubt == pytest.approx(0.3, abs=0.01)
    assert math.exp(Belief().mean) == 1


def test_where_no_rest_is_estimated_none_is_learned():
    assert not learned_rest(Estimate(0.0, 0.0, 0.0), taught(*[100.0] * 9)).is_learned


@pytest.mark.parametrize(("estimate_s", "rested_s"), [(0.0, 60.0), (60.0, 0.0)])
def test_an_observation_needs_both_its_times(estimate_s, rested_s):
    with pytest.raises(CalculationError, match="above 0"):
        RestObservation(FOAM_ON_VESTS, estimate_s, rested_s, Told.READY, MORNING)


OVERNIGHT_S = 14 * 3600.0
SLIPPED_S = 4.0
"""A tap on "cold already" as the garment has just gone to rest."""


def good_rests(number: int) -> Belief:
    """Garments that were called ready after some 60 s, more or less a tenth."""
    dice = Random(7)
    return taught(*(60 * math.exp(dice.gauss(0, 0.1)) for _ in range(number)))


def rest_after(belief: Belief) -> float:
    """The learned rest; the floor goes by it."""
    rest = learned_rest(ESTIMATE, belief)
    assert rest.is_learned
    return rest.seconds.median


@pytest.mark.parametrize("good", [5, 20, 300])
def test_a_garment_left_overnight_that_lifts_does_not_lengthen_the_rest(good):
    belief = good_rests(good)
    assert learn(belief, seen(OVERNIGHT_S, Told.LIFTED)) == belief


@pytest.mark.parametrize(("good", "by_s"), [(5, 5.0), (20, 1.5), (300, 0.1)])
def test_one_false_cold_already_shortens_the_rest_by_little(good, by_s):
    belief = good_rests(good)
    before_s = rest_after(belief)
    slipped = learn(belief, seen(SLIPPED_S))
    assert before_s - by_s < rest_after(slipped) < before_s


@pytest.mark.parametrize("good", [5, 20, 300])
def test_the_rest_recovers_from_a_false_cold_already_within_a_few_rests(good):
    belief = good_rests(good)
    before_s = rest_after(belief)
    slipped = learn(belief, seen(SLIPPED_S))
    for _ in range(4):
        slipped = learn(slipped, seen(60.0))
    assert rest_after(slipped) == pytest.approx(before_s, abs=3.0)


def test_one_false_still_warm_in_the_morning_lengthens_the_rest_by_little():
    belief = good_rests(20)
    told = learn(belief, seen(OVERNIGHT_S, Told.BETWEEN))
    assert rest_after(belief) < rest_after(told) < rest_after(belief) + 1.5


@pytest.mark.parametrize("told", [Told.READY, Told.BETWEEN])
@pytest.mark.parametrize("rested_s", [SLIPPED_S, OVERNIGHT_S])
def test_a_slip_weighs_as_one_garment_at_the_end_of_the_plausible_range(rested_s, told):
    belief = good_rests(20)
    end_s = ESTIMATE.median * math.exp(belief.mean + math.copysign(belief.reach, rested_s - 60))
    slipped, at_the_end = learn(belief, seen(rested_s, told)), belief.after(math.log(end_s / ESTIMATE.median))
    assert (slipped.mean, slipped.scale) == pytest.approx((at_the_end.mean, at_the_end.scale))
    assert slipped.n == belief.n + 1


@pytest.mark.parametrize("needed_s", [20.0, 200.0])
def test_what_is_far_from_the_estimate_again_and_again_is_learned_all_the_same(needed_s):
    assert rest_after(taught(*[needed_s] * 20)) == pytest.approx(needed_s, rel=0.2)


def test_a_season_in_which_all_takes_twice_as_long_is_learned():
    belief = good_rests(10)
    for _ in range(60):
        belief = learn(belief, seen(120.0))
    assert rest_after(belief) > 100


def floor_of(needed_s: float, dice: Random) -> list[float]:
    """The rests of forty garments that need so long, more or less a tenth: each is felt 5 s after it is due,
    and sent back to the end of the band while it is warm. Nobody looks before.
    """
    belief, rested_s = Belief(), []
    for _ in range(40):
        need_s = needed_s * math.exp(dice.gauss(0, 0.1))
        rest = learned_rest(ESTIMATE, belief).seconds
        rested_s.append(rest.median)
        belief = learn(belief, felt(need_s, rest))
    return rested_s


def felt(need_s: float, rest: Estimate) -> RestObservation:
    due_s, warm_s = rest.median, 0.0
    while need_s > due_s + 5:
        warm_s, due_s = due_s + 5, due_s + 5 + rest.high - rest.median
    if warm_s:
        return seen(math.sqrt(warm_s * due_s), Told.BETWEEN)
    return seen(due_s + 5, Told.WELL)


@pytest.mark.parametrize("needed_s", [80.0, 100.0, 160.0])
def test_a_floor_whose_garments_need_longer_than_estimated_comes_to_rest_them_a_little_longer(needed_s):
    rests = [floor_of(needed_s, Random(seed))[-1] for seed in range(20)]
    assert all(0.9 * needed_s < rest < 1.3 * needed_s for rest in rests)
    assert needed_s < sum(rests) / len(rests) < 1.2 * needed_s
