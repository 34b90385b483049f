"""Hot layers that cool from both faces: refining, what they lose, and what is refused."""

from dataclasses import replace
from functools import partial

import numpy as np
import pytest

from models.errors import CalculationError
from models.heat.physics.conduction import Face, Layer, conduct, grid_of
from models.heat.physics.convection import level_w_per_m2k, radiated_w_per_m2, upright_w_per_m2k
from models.heat.physics.cooling import Cooling, HotBody, cool_each
from models.heat.physics.losses import EMISSIVITY, TABLE_W_PER_M2K, Surroundings
from models.ranges import Case
from models.recipe.places import Place

ROOM_C = 22.0
FACES_C = np.array([43.0, 60.0, 95.0, 149.0])
THICK_FOAM = (
    Layer("carrier", 0.1e-3, 0.20, 1.7e6, 149.0),
    Layer("foam", 4e-3, 0.09, 8.1e5, 149.0),
    Layer("cloth", 0.72e-3, 0.08, 4.3e5, 60.0, 3e-4),
)


def around(place: Place) -> Surroundings:
    return Surroundings(place, ROOM_C, 0.4, 0.5)


def body_at(place: Place, layers=THICK_FOAM, finer=1) -> HotBody:
    here = around(place)
    losses = (
        partial(loss, haste=Case.LIKELY.value)
        for loss in (here.upper_loss_w_per_m2, here.lower_loss_w_per_m2)
    )
    return HotBody(grid_of(layers, 6 * finer), *losses)


def cooled(body: HotBody, lowest_c: float = 43.0, finer: int = 1) -> Cooling:
    (course,) = cool_each([body], lowest_c, finer=finer)
    return course


@pytest.mark.parametrize("place", Place)
@pytest.mark.parametrize("target_c", [100.0, 60.0, 43.0])
def test_the_cells_and_steps_in_use_tell_times_within_a_hundredth_of_the_refined_ones(place, target_c):
    refined_s = cooled(body_at(place, finer=8), finer=8).seconds_to(target_c)
    assert cooled(body_at(place)).seconds_to(target_c) == pytest.approx(refined_s, rel=0.01)


@pytest.mark.parametrize("place", Place)
def test_the_steps_in_use_are_within_half_a_hundredth_of_finer_ones(place):
    finer_s = cooled(body_at(place), finer=8).seconds_to(43.0)
    assert cooled(body_at(place)).seconds_to(43.0) == pytest.approx(finer_s, rel=0.005)


def test_a_loss_in_proportion_cools_as_behind_a_fixed_film():
    """The same layers by the other way of working them: a face held behind a resistance."""
    history = conduct(THICK_FOAM, Face(ROOM_C, 1 / 20.0), Face(ROOM_C, 1 / 10.0), 120.0, finer=4)
    body = HotBody(
        grid_of(THICK_FOAM, 24),
        lambda face_c: 20.0 * (face_c - ROOM_C),
        lambda face_c: 10.0 * (face_c - ROOM_C),
    )
    course = cooled(body, finer=4)
    at_s = np.array([1.0, 5.0, 20.0, 60.0, 120.0])
    expected_c = np.interp(at_s, history.times_s, history.cells_c.max(axis=1))
    assert np.interp(at_s, course.times_s, course.hottest_c) == pytest.approx(expected_c, abs=0.1)


def test_side_by_side_each_body_cools_as_by_itself():
    bodies = [body_at(place) for place in Place]
    together = [course.seconds_to(43.0) for course in cool_each(bodies, 43.0)]
    assert together == pytest.approx([cooled(body).seconds_to(43.0) for body in bodies])


def test_halving_what_it_holds_halves_the_time_it_takes():
    def even(heat):
        return body_at(Place.HUNG, [Layer("sheet", 1e-4, 1e3, heat, 120.0)])

    heavy_s, light_s = (cooled(even(heat)).seconds_to(43.0) for heat in (1e7, 5e6))
    assert heavy_s == pytest.approx(2 * light_s, rel=0.01)


def test_the_hottest_place_decides_and_not_the_mean():
    """Half is at 100 °C, half at 30: the even mean of 65 °C is below 90 from the start."""
    halves = [Layer("hot", 2e-3, 0.09, 8e5, 100.0), Layer("cool", 2e-3, 0.09, 8e5, 30.0)]
    assert cooled(body_at(Place.HUNG, halves)).seconds_to(90.0) > 1


def test_a_body_that_loses_nothing_is_refused():
    body = HotBody(grid_of(THICK_FOAM), np.zeros_like, np.zeros_like)
    with pytest.raises(CalculationError, match="does not cool to 43"):
        cooled(body)


def test_a_body_hotter_than_any_loss_is_listed_for_is_refused():
    molten = tuple(replace(layer, start_c=700.0) for layer in THICK_FOAM)
    with pytest.raises(CalculationError, match="no garment cools from 700 °C"):
        cooled(body_at(Place.HUNG, molten))


def test_no_course_tells_of_a_temperature_it_did_not_reach():
    with pytest.raises(CalculationError, match="does not cool to 30"):
        cooled(body_at(Place.HUNG)).seconds_to(30.0)


@pytest.mark.parametrize(("case", "share"), [(Case.QUICK, 1.2), (Case.LIKELY, 1.0), (Case.SLOW, 0.8)])
@pytest.mark.parametrize("place", Place)
def test_the_correlations_of_free_convection_spread_a_fifth_either_way(place, case, share):
    """What is not radiated is convected: at the ends of the band 0.8 and 1.2 of what the correlation says."""
    here = around(place)
    radiated = radiated_w_per_m2(FACES_C, ROOM_C, EMISSIVITY.at(case.value))
    convected = here.upper_loss_w_per_m2(FACES_C, case.value) - radiated
    by_correlation = (
        upright_w_per_m2k(FACES_C, ROOM_C, 0.5)
        if place == Place.HUNG
        else level_w_per_m2k(FACES_C, ROOM_C, 0.4 * 0.5 / 1.8)
    )
    assert convected / (FACES_C - ROOM_C) == pytest.approx(share * by_correlation)


def test_the_lower_face_hangs_in_the_air_lies_on_the_table_or_is_kept_warm_by_the_press():
    hung, table, press = (around(place).lower_loss_w_per_m2(FACES_C, 0.0) for place in Place)
    assert hung == pytest.approx(around(Place.HUNG).upper_loss_w_per_m2(FACES_C, 0.0))
    assert table == pytest.approx(TABLE_W_PER_M2K.likely * (FACES_C - ROOM_C))
    assert press == pytest.approx(np.zeros(4))


def test_in_a_room_as_warm_as_itself_a_face_loses_nothing():
    for place in Place:
        assert around(place).upper_loss_w_per_m2(np.array([ROOM_C]), 0.0) == pytest.approx([0.0], abs=1e-9)
