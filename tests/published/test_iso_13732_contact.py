"""Burn thresholds in contact with hot surfaces, from a minute on.

ISO 13732-1 (the same figures as EN 563), as the public table of the sanitary rule SP 2.2.2.1327-03 repeats
them. The times below a minute are from memory and from touch-protection pages: only their order is checked.
"""

import pytest

from models.heat.physics.handling import METAL_C, PLASTIC_C, touchable_c


@pytest.mark.parametrize(("seconds", "metal_c", "plastic_c"), [(60, 51, 60), (600, 48, 48), (28_800, 43, 43)])
def test_the_thresholds_for_a_minute_ten_minutes_and_a_shift(seconds, metal_c, plastic_c):
    assert touchable_c(seconds, METAL_C) == metal_c
    assert touchable_c(seconds, PLASTIC_C) == plastic_c


@pytest.mark.parametrize("thresholds_c", [METAL_C, PLASTIC_C])
def test_the_longer_the_contact_the_cooler_it_has_to_be(thresholds_c):
    in_time = [thresholds_c[seconds] for seconds in sorted(thresholds_c)]
    assert in_time == sorted(in_time, reverse=True)
    assert len(set(in_time)) == len(in_time)
