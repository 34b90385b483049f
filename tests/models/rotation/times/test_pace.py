"""How long hands take: from what is expected to what was measured."""

import random
from dataclasses import replace
from statistics import fmean, pstdev

import pytest

from models.rotation.problem.shop import Garment, Press, Setting, Shop, Visit
from models.rotation.times.pace import PRIOR, Hand, HandTime, Pace, at_pace, draw_pace, pace_of, with_hands

HIT = Visit(Setting("press", 149), lay_s=20, dwell_s=15, off_s=5, rest_s=60, finish_s=10)
SHOP = Shop((Press("press"),), (Garment("a", (HIT, HIT)),))


def test_before_anything_was_measured_the_expected_times_stand():
    assert at_pace(SHOP, Pace()) == SHOP


@pytest.mark.parametrize("n", [1, 5, 50])
def test_the_factor_moves_from_one_to_the_measured_mean_as_more_is_measured(n):
    pace = pace_of([HandTime(Hand.LAY, 10, 20)] * n)
    assert pace.factor(Hand.LAY) == pytest.approx((2.0 * n + PRIOR) / (n + PRIOR))
    assert pace.factor(Hand.OFF) == 1.0


def test_many_measured_times_outweigh_the_expected_ones():
    pace = pace_of([HandTime(Hand.FINISH, 10, s) for s in (18, 20, 22)] * 100)
    assert pace.factor(Hand.FINISH) == pytest.approx(2.0, abs=0.01)


def test_only_hands_have_a_pace_and_each_kind_its_own():
    pace = pace_of([HandTime(Hand.LAY, 10, 20)] * PRIOR + [HandTime(Hand.OFF, 10, 5)] * PRIOR)
    (visit, _) = at_pace(SHOP, pace).garments[0].visits
    assert (visit.lay_s, visit.off_s, visit.finish_s) == (20 * 1.5, 5 * 0.75, 10)
    assert (visit.dwell_s, visit.rest_s) == (15, 60)


def test_where_nothing_was_expected_nothing_is_learned():
    assert pace_of([HandTime(Hand.LAY, 0, 20)]) == Pace()


def test_garments_keep_all_but_their_hand_times_when_these_are_made_anew():
    shop = with_hands(
        SHOP, lambda hand, expected_s: {Hand.LAY: 1, Hand.OFF: 2, Hand.FINISH: 3}[hand] * expected_s
    )
    slow = replace(HIT, off_s=10, finish_s=30)
    assert shop == replace(SHOP, garments=(Garment("a", (slow, slow)),))


def drawn_means(pace: Pace) -> list[float]:
    """Means of the laying times of many paces that the floor may truly have, where 10 s are expected."""
    dice = random.Random(5)
    means = []
    for _ in range(300):
        drawn = draw_pace(pace, dice)
        means.append(fmean(drawn.lasts(dice, Hand.LAY, 10.0) for _ in range(40)))
    return means


def test_the_paces_that_are_drawn_lie_around_the_measured_one_and_closer_with_more_of_it():
    few, many = (drawn_means(pace_of([HandTime(Hand.LAY, 10, s) for s in (15, 20, 25)] * n)) for n in (1, 30))
    assert pstdev(many) < pstdev(few) / 2
    assert fmean(many) == pytest.approx(20.0, abs=0.6)
    assert 10 < fmean(few) < 20


def test_every_measured_ratio_can_be_drawn_again():
    pace = pace_of([HandTime(Hand.OFF, 10, s) for s in (11, 13, 17)])
    dice = random.Random(1)
    seen = {round(draw_pace(pace, dice).lasts(dice, Hand.OFF, 10.0), 6) for _ in range(400)}
    assert {11.0, 13.0, 17.0} <= seen


def test_the_share_that_is_pressed_again_follows_what_was_seen():
    dice = random.Random(3)

    def share(again: int, hits: int) -> float:
        return fmean(draw_pace(Pace(again=again, hits=hits), dice).again for _ in range(2000))

    assert share(0, 0) == pytest.approx(0.05, abs=0.01)  # a few in a hundred, before anything was seen
    assert share(30, 100) == pytest.approx(30.5 / 110, abs=0.01)
    assert share(0, 1000) < 0.005
