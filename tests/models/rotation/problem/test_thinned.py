"""A large floor is told by some of its garments: as well, and in a bounded time."""

import random
from dataclasses import replace

import pytest

from models.rotation import next_step
from models.rotation.problem.dispatch_rule import RULES, Rule
from models.rotation.problem.shop import Garment, Press, Setting, Shop, Visit
from models.rotation.problem.thinned import thinned, visits_of
from models.rotation.rules import compare_policies, rule_search
from models.rotation.simulation import simulator
from models.rotation.simulation.simulator import course_by
from models.rotation.times import forecast
from models.rotation.times.pace import Pace, at_pace

HIT = Visit(Setting("press", 149), lay_s=20, dwell_s=15, off_s=5, rest_s=60, finish_s=10)
HOTTER = replace(HIT, setting=Setting("press", 155), rest_s=0)
PRESS = Press("press", heating_s_per_degree=6, cooling_s_per_degree=20, temperature_c=149)
PACE = Pace(lay=(0.9, 1.0, 1.1) * 20, off=(1.0,) * 60, finish=(0.9, 1.0, 1.1) * 20, again=20, hits=1_000)
MOST_VISITS_OF_AN_OUTLOOK = 45_000
"""Some two seconds of work."""


def floor(garments: int) -> Shop:
    """Two batches, the smaller one due first; a quarter of the garments have a hit behind them, some rest."""
    return Shop((PRESS,), tuple(_garment(n, garments // 10) for n in range(garments)))


def _garment(n: int, urgent: int) -> Garment:
    is_urgent = n < urgent
    visits = (HOTTER, HOTTER, HOTTER) if n % 4 == 0 else (HIT, HOTTER, HOTTER, HOTTER)
    is_off = n % 97 == 0
    batch = "urgent" if is_urgent else "later"
    return Garment(f"g{n}", visits, 30.0 * is_off, is_off, batch=batch, rank=int(not is_urgent))


def test_a_small_floor_is_told_by_all_its_garments():
    shop = floor(50)
    assert thinned(shop, visits_of(shop)) is shop


def test_of_each_kind_of_garment_an_equal_share_stays_and_its_first():
    shop = floor(2_000)
    some = thinned(shop, 400)
    assert 400 <= visits_of(some) <= 440
    assert some.garments[0] == shop.garments[0]
    kinds = [{(g.batch, g.is_off, len(g.visits)) for g in one.garments} for one in (shop, some)]
    assert kinds[0] == kinds[1]


def test_what_is_in_hand_stays():
    shop = floor(2_000)
    in_hand = replace(shop.garments[1], is_in_hand=True)
    assert in_hand in thinned(replace(shop, garments=(*shop.garments, in_hand)), 400).garments


@pytest.mark.parametrize("batch", ["urgent", "later"])
def test_the_ends_that_some_garments_foretell_are_those_of_all(monkeypatch: pytest.MonkeyPatch, batch: str):
    shop = floor(400)
    told = forecast.forecast(shop, PACE, RULES[0], random.Random(1))[batch]
    monkeypatch.setattr(forecast, "DRAWN", 10_000)
    of_all = forecast.forecast(shop, PACE, RULES[0], random.Random(1))[batch]
    assert told.median_s == pytest.approx(of_all.median_s, rel=0.03)
    assert told.low_s == pytest.approx(of_all.low_s, rel=0.06)
    assert told.high_s == pytest.approx(of_all.high_s, rel=0.06)


def test_what_other_ways_take_is_told_in_scale(monkeypatch: pytest.MonkeyPatch):
    shop = floor(400)
    some = compare_policies.passes(shop)
    assert some.best.course.end_s == course_by(shop, some.best.rule).end_s
    exhausted = [course_by(shop, rule).end_s for rule in RULES if rule.change == "when exhausted"]
    assert some.by_setting_s == pytest.approx(min(exhausted), rel=0.03)
    assert some.best.course.end_s < some.whole_s


def test_at_2000_garments_an_outlook_goes_through_a_bounded_number_of_visits(
    monkeypatch: pytest.MonkeyPatch,
):
    gone_through: list[int] = []

    def counted(shop: Shop, rule: Rule) -> simulator.Course:
        gone_through.append(visits_of(shop))
        return course_by(shop, rule)

    for module in (rule_search, forecast):
        monkeypatch.setattr(module, "course_by", counted)
    shop = floor(2_000)
    compared = compare_policies.passes(at_pace(shop, PACE))
    forecast.forecast(shop, PACE, compared.best.rule, random.Random(1), compared.best.course)
    assert visits_of(shop) < sum(gone_through) < MOST_VISITS_OF_AN_OUTLOOK


def test_a_very_large_floor_mixes_no_claims():
    """A rule that was mixed on a small floor is followed without its mixes."""
    told = next_step.next_step(floor(400), [replace(RULES[1], mixes=(3, 4))])
    assert told.rule == RULES[1]
