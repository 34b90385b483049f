"""What no way of working can be quicker than."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.rotation.problem.bounds import least_change_s, least_s
from models.rotation.problem.dispatch_rule import RULES
from models.rotation.problem.shop import Garment, Press, Setting, Shop, Span, Visit
from models.rotation.simulation.simulator import course_by
from tests.random_shops import shops, tiny_shop
from tests.reference.shortest_rotation import earliest_end

PRESS = Press("press", heating_s_per_degree=6, cooling_s_per_degree=20, temperature_c=149)
HIT = Visit(Setting("press", 149), lay_s=20, dwell_s=15, off_s=5, rest_s=60, finish_s=10)
HOTTER = replace(HIT, setting=Setting("press", 152))


@settings(max_examples=150, deadline=None)
@given(shop=shops(), rule=st.sampled_from(RULES))
def test_no_course_ends_before_the_bound(shop, rule):
    assert least_s(shop) <= course_by(shop, rule).end_s + 1e-6


@pytest.mark.parametrize("seed", range(100, 130))
def test_the_bound_is_never_above_the_proved_end(seed):
    end = earliest_end(tiny_shop(seed))
    assert end.is_proved
    assert least_s(tiny_shop(seed)) <= end.end_s


@pytest.mark.parametrize(
    ("shop", "seconds"),
    [
        pytest.param(Shop((PRESS,), (Garment("a", (HIT, HIT)),)), 220, id="one garment's own way"),
        pytest.param(
            Shop((PRESS,), (Garment("a", (HIT,)),) * 5),
            5 * 40 + 60 + 10,
            id="the press, and its last garment",
        ),
        pytest.param(
            Shop((PRESS,), (Garment("a", (HIT,)), Garment("b", (HOTTER,))), 2),
            2 * 40 + 18 + 70,
            id="one change",
        ),
        pytest.param(
            Shop((PRESS, Press("small")), (Garment("a", (replace(HIT, finish_s=90, rest_s=0),)),) * 4),
            4 * 115,
            id="one person",
        ),
        pytest.param(
            Shop((PRESS,), (Garment("a", (replace(HIT, finish_s=16),)),) * 9),
            9 * (40 + 16),
            id="one person, and checks that fit into no dwell",
        ),
        pytest.param(
            Shop(
                (PRESS,), (Garment("a", tuple(replace(HIT, dwell_s=s, finish_s=16) for s in (31, 15))),) * 9
            ),
            9 * (56 + 40 + 16),
            id="one person, and every other dwell holds one check",
        ),
        pytest.param(
            Shop((PRESS,), (Garment("a", (HOTTER, HIT)),) * 2), 4 * 40 + 18 + 60 + 70, id="changes in order"
        ),
        pytest.param(
            Shop((PRESS,), (Garment("a", (HIT,)),) * 5, taken=(Span(0, 500),)), 500 + 5 * 35, id="bound hands"
        ),
        pytest.param(Shop((PRESS,), (), taken=(Span(0, 500),)), 0, id="nothing to do"),
        pytest.param(
            Shop((PRESS,), (Garment("a", (HIT,), ready_s=50, is_off=True),)), 60, id="off the press already"
        ),
    ],
)
def test_the_longest_of_what_garments_presses_and_people_have_to_do_counts(shop, seconds):
    assert least_s(shop) == seconds


@pytest.mark.parametrize(
    ("wanted", "stands_c", "seconds"),
    [
        ({149, 152}, 149, 18),
        ({149, 152}, 152, 60),
        ({149, 152}, None, 18),
        ({149, 152}, 150, 20 + 18),
        ({149}, 152, 60),
    ],
)
def test_the_least_change_goes_through_all_heats_the_cheaper_way(wanted, stands_c, seconds):
    assert least_change_s(PRESS, wanted, stands_c) == seconds
