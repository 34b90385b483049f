"""The floor as rotation plans on it: where each garment stands, who is bound, how hot the presses are."""

from dataclasses import replace
from datetime import timedelta
from uuid import UUID

import pytest

from models.garment.events import (
    AllPeeled,
    Closed,
    Completed,
    Event,
    Happening,
    Held,
    Opened,
    Passed,
    Peeled,
    Rested,
    RestEnded,
    TakenUp,
)
from models.garment.progress import fold
from models.job.job import Peel
from models.rotation.floor_now import IN_HAND_S, FloorNow, OnFloor
from models.rotation.next_step import next_step
from models.rotation.problem.shop import Shop, Span
from models.rotation.times.expected import Waits
from tests.held_clock import MORNING
from tests.sample_jobs import WARM_S, crew_vest_recipe, warm_recipe

RECIPE = crew_vest_recipe()
REST_S = 70.0
FIRST_HIT: tuple[tuple[float, Happening], ...] = (
    (0, TakenUp()),
    (20, Closed(15)),
    (35, Opened(15)),
    (40, Peeled(("wave",), Peel.HOT)),
    (40, Rested(70)),
)
CHECKED: tuple[tuple[float, Happening], ...] = (
    (110, RestEnded()),
    (110, Peeled(("anchor",), Peel.COLD)),
    (110, AllPeeled()),
    (120, Passed()),
)


def log_of(*happenings: tuple[float, Happening], station: str = "Station 1") -> tuple[Event, ...]:
    return tuple(
        Event(UUID(int=n), n, UUID(int=n), MORNING + timedelta(seconds=at_s), station, "Mette", what)
        for n, (at_s, what) in enumerate(happenings, start=1)
    )


def vest(*happenings: tuple[float, Happening], station: str = "Station 1", code: str = "A") -> OnFloor:
    log = log_of(*happenings, station=station)
    return OnFloor(code, "LC-0147", fold(RECIPE, log), log)


def warm_vest(*happenings: tuple[float, Happening]) -> OnFloor:
    """Its anchor peels warm."""
    log = log_of(*happenings)
    return OnFloor("A", "LC-0147", fold(warm_recipe(), log), log)


def shop_at(seconds: float, *floor: OnFloor) -> Shop:
    now = MORNING + timedelta(seconds=seconds)
    return FloorNow(now, "Station 1", lambda _recipe, _hit: Waits(cold_s=REST_S)).shop(floor)


def only(shop: Shop) -> tuple[float, bool, int]:
    """Of the one garment there: when it goes on, whether its hit is over, how many visits are ahead."""
    (garment,) = shop.garments
    return garment.ready_s, garment.is_off, len(garment.visits)


def test_a_vest_that_nobody_has_begun_can_be_laid_now_for_all_its_hits() -> None:
    assert only(shop_at(0, vest())) == (0.0, False, 2)


def test_the_hit_with_the_cold_peel_rests_and_the_other_does_not() -> None:
    (garment,) = shop_at(0, vest()).garments
    first, second = garment.visits
    assert (first.off_s + first.rest_s, second.rest_s) == (REST_S, 0.0)  # it rests from the opening on


def test_a_vest_under_the_press_comes_when_it_is_opened_taken_off_and_rested() -> None:
    ready_s, is_off, ahead = only(shop := shop_at(25, vest(*FIRST_HIT[:2])))
    off_s = shop.garments[0].visits[0].off_s
    assert (ready_s, is_off, ahead) == (10 + REST_S, True, 2)
    assert shop.presses[0].free_s == 10 + off_s
    assert shop.taken == (Span(10, 10 + off_s),)


def test_an_overdue_hit_is_expected_to_be_opened_at_once() -> None:
    shop = shop_at(500, vest(*FIRST_HIT[:2]))
    assert shop.taken[0].start_s == 1.0


@pytest.mark.parametrize(("at_s", "left_s"), [(50, 60.0), (110, 0.0), (300, 0.0)])
def test_a_resting_vest_can_be_finished_when_its_rest_is_over(at_s: float, left_s: float) -> None:
    assert only(shop_at(at_s, vest(*FIRST_HIT))) == (left_s, True, 2)


def test_a_vest_that_was_opened_and_not_peeled_has_its_rest_still_ahead() -> None:
    opened = vest(*FIRST_HIT[:4])
    ready_s, is_off, _ = only(shop_at(42, opened))
    assert (ready_s, is_off) == (REST_S - 7, True)


def test_the_rest_is_still_ahead_while_the_hot_carrier_comes_off_at_the_press() -> None:
    """The wave peels hot, the anchor cold: opened at 35 s, and nothing was peeled since."""
    ready_s, is_off, _ = only(shop := shop_at(36, vest(*FIRST_HIT[:3])))
    off_s = shop.garments[0].visits[0].off_s
    assert (ready_s, is_off) == (REST_S - 1, True)
    assert shop.taken == (Span(0, off_s - 1),)


def test_a_vest_that_waits_to_be_peeled_warm_can_be_finished_when_it_is_warm() -> None:
    shop = FloorNow(
        MORNING + timedelta(seconds=45), "Station 1", lambda _recipe, _hit: Waits(warm_s=WARM_S)
    ).shop([warm_vest((0, TakenUp()), (20, Closed(15)), (35, Opened(15)), (40, Peeled(("wave",), Peel.HOT)))])
    assert only(shop) == (33.0, True, 2)
    assert shop.presses[0].free_s == 0.5


def test_a_vest_whose_warm_wait_is_timed_can_be_peeled_when_that_is_over() -> None:
    opened = Opened(15, warm_s=40)
    hot_off = Peeled(("wave",), Peel.HOT)
    shop = shop_at(45, warm_vest((0, TakenUp()), (20, Closed(15)), (37, opened), (40, hot_off)))
    assert only(shop)[:2] == (30.0, True)  # at 75 s: the press went up at 35 s, and was tapped at 37 s


def test_the_press_is_not_free_while_the_hot_carrier_comes_off_on_it() -> None:
    shop = shop_at(36, vest(*FIRST_HIT[:3]), vest(code="B"))
    assert shop.presses[0].free_s == shop.garments[0].visits[0].off_s - 1


def test_a_vest_that_was_left_open_on_the_press_does_not_keep_it_for_ever() -> None:
    shop = shop_at(35 + IN_HAND_S + 1, vest(*FIRST_HIT[:3]), vest(code="B"))
    assert shop.presses[0].free_s == 0.0


def test_a_vest_at_its_check_its_check_needs_no_rest_any_more() -> None:
    shop = shop_at(112, vest(*FIRST_HIT, *CHECKED[:3]))
    assert only(shop) == (0.0, True, 2)
    assert shop.garments[0].visits[0].rest_s == 0.0


def test_after_its_check_the_vest_waits_for_its_next_hit() -> None:
    assert only(shop_at(130, vest(*FIRST_HIT, *CHECKED))) == (0.0, False, 1)


@pytest.mark.parametrize(
    "end",
    [Held("a corner lifts"), Completed()],
)
def test_a_vest_that_is_held_or_done_is_not_planned_on(end: Happening) -> None:
    second: tuple[tuple[float, Happening], ...] = ((140, Closed(5)), (145, Opened(5)), (145, AllPeeled()))
    assert shop_at(200, vest(*FIRST_HIT, *CHECKED, *second, (150, end))).garments == ()


def test_the_press_is_as_hot_as_the_hit_that_was_closed_last() -> None:
    cooler = replace(RECIPE.plan.hits[0], temperature_c=140)
    plan = replace(RECIPE.plan, hits=(cooler, *RECIPE.plan.hits[1:]))
    log = log_of(*FIRST_HIT)
    early = OnFloor("A", "LC-0147", fold(replace(RECIPE, plan=plan), log), log)
    late = vest(*((at_s + 60, what) for at_s, what in FIRST_HIT), code="B")
    assert shop_at(200, early, late).presses[0].temperature_c == 149
    assert shop_at(200, late, early).presses[0].temperature_c == 149


def test_of_a_press_that_nothing_was_pressed_on_nobody_knows_how_hot_it_is() -> None:
    assert shop_at(0, vest()).presses[0].temperature_c is None


def test_another_station_with_a_vest_in_hand_is_a_person_more_and_bound_for_now() -> None:
    shop = shop_at(5, vest(), vest(FIRST_HIT[0], station="Station 2", code="B"))
    theirs = shop.garments[1]
    assert shop.people == 2
    assert shop.taken == (Span(0.0, theirs.visits[0].lay_s),)
    assert theirs.ready_s > 0
    assert shop.presses[0].free_s == theirs.visits[0].on_press_s


def test_a_station_stands_for_a_person_also_while_its_vest_rests() -> None:
    theirs = vest(*FIRST_HIT, station="Station 2", code="B")
    assert shop_at(60, vest(), theirs).people == 2
    assert shop_at(40 + IN_HAND_S + 1, vest(), theirs).people == 1


def test_what_one_lays_oneself_goes_to_the_press_before_others() -> None:
    """B was scanned and lies on the press, so that no other vest is called to it."""
    shop = shop_at(5, vest(), vest(FIRST_HIT[0], code="B"))
    step = next_step(shop).step
    assert step is not None
    assert shop.garments[step.garment].code == "B"
    assert not any(garment.is_in_hand for garment in shop_at(IN_HAND_S + 1, *[vest(FIRST_HIT[0])]).garments)


def test_a_vest_of_one_s_own_binds_nobody_else() -> None:
    shop = shop_at(5, vest(), vest(FIRST_HIT[0], code="B"))
    assert (shop.people, shop.taken) == (1, ())
