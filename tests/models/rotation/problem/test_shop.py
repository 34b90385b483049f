"""What is known of garments and presses before anything is planned."""

import pytest

from models.rotation.problem.shop import Garment, Press, Setting, Shop, Visit

HIT = Visit(Setting("press", 149), lay_s=20, dwell_s=15, off_s=5, rest_s=60, finish_s=10)
PRESS = Press("press", heating_s_per_degree=6, cooling_s_per_degree=20)


@pytest.mark.parametrize(
    ("before_c", "after_c", "seconds"), [(149, 152, 18), (152, 149, 60), (149, 149, 0), (None, 160, 0)]
)
def test_heating_and_cooling_take_their_own_seconds_per_degree(before_c, after_c, seconds):
    assert PRESS.change_s(before_c, after_c) == seconds


def test_a_visit_takes_the_press_without_its_rest_and_check():
    assert (HIT.on_press_s, HIT.whole_s) == (40, 110)


def test_a_garment_alone_takes_all_its_visits():
    assert Garment("a", (HIT, HIT), ready_s=7).alone_s == 7 + 220
    assert Garment("a", (HIT, HIT)).tails_s == (220, 110)


def test_a_garment_that_is_off_the_press_has_only_its_check_and_the_visits_after_it_ahead():
    assert Garment("a", (HIT, HIT), ready_s=7, is_off=True).alone_s == 7 + 10 + 110
    assert Garment("a", (), ready_s=7).alone_s == 7


def test_a_press_is_found_by_its_name():
    assert Shop((PRESS, Press("small")), ()).press("small").name == "small"
