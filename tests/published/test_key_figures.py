"""Key figures against ISO 22400-2, and their interval against Newcombe's table and the normal table.

Sources:
ISO 22400-2:2014, Key performance indicators for manufacturing operations management, as its formulas are
stated in the open ontology hsu-aut/IndustrialStandard-ODP-ISO22400-2 (first pass yield GP / IP, rework ratio
RQ / PQ, scrap ratio SQ / PQ). The quantities of the worked example are our own, its ratios follow by hand.
R. G. Newcombe, Two-sided confidence intervals for the single proportion, Statistics in Medicine 17 (1998)
857-872, Table I, method 3 (score method without continuity correction), four decimals.
The interval of 10 of 14: test data of the open library msn0/wilson-score-interval, five decimals.
"""

import pytest

from models.intervals import wilson_interval
from models.quality.key_figures import KeyFigures

NEWCOMBE_TABLE_I = [
    (81, 263, 0.2553, 0.3662),
    (15, 148, 0.0624, 0.1605),
    (0, 20, 0.0000, 0.1611),
    (1, 29, 0.0061, 0.1718),
]


def test_the_three_ratios_of_iso_22400_2_on_five_hundred_garments():
    figures = KeyFigures(produced=500, good_first_pass=480, reworked=15, spoiled=5)
    assert figures.first_pass_yield == pytest.approx(0.96, abs=1e-12)
    assert figures.rework_ratio == pytest.approx(0.03, abs=1e-12)
    assert figures.scrap_ratio == pytest.approx(0.01, abs=1e-12)


@pytest.mark.parametrize(("good", "of", "low", "high"), NEWCOMBE_TABLE_I)
def test_the_interval_is_newcombes_to_his_four_decimals(good, of, low, high):
    interval = wilson_interval(good, of)
    assert interval.low == pytest.approx(low, abs=5e-5)
    assert interval.high == pytest.approx(high, abs=5e-5)


def test_ten_good_of_fourteen_to_five_decimals():
    interval = wilson_interval(10, 14)
    assert interval.low == pytest.approx(0.45351, abs=5e-6)
    assert interval.high == pytest.approx(0.88279, abs=5e-6)


@pytest.mark.parametrize(("confidence", "z"), [(0.90, 1.645), (0.95, 1.960), (0.99, 2.576)])
def test_none_good_of_n_reaches_up_to_the_closed_form_of_the_normal_table(confidence, z):
    """With no good one the interval ends at z² / (n + z²); z from the table of the normal distribution."""
    n = 20
    assert wilson_interval(0, n, confidence).high == pytest.approx(z * z / (n + z * z), rel=1e-3)
