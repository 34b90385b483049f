"""The real window: fingers, keys and scanner reach everything."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from floorapp.planned_job import PlannedJob
from floorapp.screen_names import ScreenName
from floorapp.set_up_flow import SetUpPhase
from floorapp.views import Action, Tap
from models.clock import HeldClock
from models.garment.cycle import State
from models.store.store import Store
from tests.floorapp.driver import LANDSCAPE, PORTRAIT
from tests.floorapp.press_operator import PressOperator
from tests.sample_jobs import crew_vest_recipe
from tests.small_floor import codes_of, flow_on

SIZES = pytest.mark.parametrize("size", [LANDSCAPE, PORTRAIT], ids=["landscape", "portrait"])


def test_a_scan_on_any_screen_opens_the_garment(sit_down: Callable[..., PressOperator], store: Store) -> None:
    operator = sit_down()
    operator.tap("Set-up")
    operator.scan(codes_of(store)[0])

    assert operator.flow.screen == ScreenName.GARMENT
    assert operator.sees("Hit 1 of 2: lay")


@SIZES
def test_a_stored_batch_is_tried_with_a_narrower_platen_and_a_piece_elsewhere_by_touch(
    sit_down: Callable[..., PressOperator], size: tuple[int, int]
) -> None:
    operator = sit_down(size)
    operator.flow.act(Action(Tap.TO_REVIEW, "LC-0147"))
    operator.desk.draw()
    operator.driver.frames(2)
    operator.tap("What if")
    operator.tap("width")
    operator.tap_piece("wave")
    operator.tap("5 mm\nup")

    assert operator.flow.screen == ScreenName.WHAT_IF
    state = operator.flow.what_if.state
    assert state is not None
    assert state.tried.press.platen_width_mm == 390
    assert state.tried.piece("wave").box.y == state.job.piece("wave").box.y - 5
    assert operator.sees("hits")


@SIZES
def test_a_hit_is_worked_by_touch_alone(
    sit_down: Callable[..., PressOperator], store: Store, size: tuple[int, int]
) -> None:
    operator = sit_down(size)
    operator.scan(codes_of(store)[0])
    operator.press()
    operator.tap("Hot ones off")

    assert store.garment(codes_of(store)[0]).progress.state == State.RESTING


def test_a_hit_is_worked_by_the_foot_switch_alone(
    sit_down: Callable[..., PressOperator], store: Store
) -> None:
    operator = sit_down()
    operator.scan(codes_of(store)[0])
    operator.step_on_the_switch("page down")
    operator.driver.advance(15)
    operator.step_on_the_switch("space")
    operator.step_on_the_switch("enter")

    assert store.garment(codes_of(store)[0]).progress.state == State.RESTING


def test_the_keys_reach_the_smaller_ways_on(sit_down: Callable[..., PressOperator], store: Store) -> None:
    operator = sit_down()
    operator.scan(codes_of(store)[0])
    operator.driver.advance(1)
    for _ in range(30):
        operator.driver.press_key("tab")
        framed = [w for w in operator.desk.focus.targets() if w.is_focused]
        if framed and getattr(framed[0], "words", "") == "Something is wrong":
            break
    operator.driver.press_key("enter")

    assert operator.flow.screen == ScreenName.FINDING


def test_a_code_is_typed_on_the_large_keys(sit_down: Callable[..., PressOperator], store: Store) -> None:
    operator = sit_down()
    operator.tap("Scan a tag")
    for character in codes_of(store)[0]:
        operator.tap(character)
    operator.tap("Open it")

    assert operator.flow.in_hand.row.code == codes_of(store)[0]


def test_enter_opens_the_code_that_the_large_keys_have_typed(
    sit_down: Callable[..., PressOperator], store: Store
) -> None:
    operator = sit_down()
    operator.tap("Scan a tag")
    for character in codes_of(store)[0]:
        operator.tap(character)
    operator.driver.press_key("enter")

    assert operator.flow.in_hand.row.code == codes_of(store)[0]


def test_the_foot_switch_on_empty_keys_does_nothing(sit_down: Callable[..., PressOperator]) -> None:
    operator = sit_down()
    operator.tap("Scan a tag")
    operator.driver.press_key("page down")

    assert operator.flow.screen == ScreenName.CODE_ENTRY


def test_seconds_are_typed_on_the_large_keys_or_the_keyboard(
    sit_down: Callable[..., PressOperator], store: Store
) -> None:
    operator = sit_down()
    operator.scan(codes_of(store)[0])
    operator.tap("Laid")
    operator.driver.advance(9)
    operator.tap("Opened early")
    operator.driver.scan("9")
    operator.driver.frames(2)

    assert operator.flow.in_hand.progress.hit.dwell_s == 6


def test_the_countdown_is_right_after_a_stalled_screen(
    sit_down: Callable[..., PressOperator], store: Store
) -> None:
    operator = sit_down()
    operator.scan(codes_of(store)[0])
    operator.tap("Laid")
    shown_before = operator.desk.screens[ScreenName.GARMENT].running.left_s
    operator.driver.jump(7)
    operator.driver.advance(0.1)

    assert shown_before == 15
    assert operator.desk.screens[ScreenName.GARMENT].running.left_s == 8


def test_a_piece_tapped_on_the_map_is_marked(sit_down: Callable[..., PressOperator], store: Store) -> None:
    operator = sit_down()
    code = codes_of(store)[0]
    operator.scan(code)
    operator.press()
    operator.tap("Hot ones off")
    operator.wait_for_the_rest()
    operator.scan(code)
    operator.tap("Cold ones off")
    operator.tap_piece("anchor")

    assert operator.flow.screen == ScreenName.FINDING
    assert operator.flow.finding.draft.pieces == {"anchor"}


def test_a_refused_scan_is_told_on_the_screen_and_goes_with_a_tap(
    sit_down: Callable[..., PressOperator], store: Store
) -> None:
    operator = sit_down()
    operator.scan("34679ACD")
    told = operator.desk.root.notice
    operator.driver.tap(operator.desk.root.ids.notice)

    assert told is not None
    assert operator.desk.root.notice is None


def at_the_check(operator: PressOperator, code: str) -> None:
    """The first hit is pressed and peeled."""
    operator.scan(code)
    operator.press()
    operator.tap("Hot ones off")
    operator.wait_for_the_rest()
    operator.scan(code)
    operator.tap("Cold ones off")


def test_a_finger_that_bounces_does_not_do_the_next_thing_as_well(
    sit_down: Callable[..., PressOperator], store: Store
) -> None:
    operator = sit_down()
    at_the_check(operator, codes_of(store)[0])
    operator.tap("All down")
    block = operator.target("Laid")
    operator.driver.tap(block)
    bounced = operator.flow.in_hand.progress.state
    operator.driver.advance(0.4)
    operator.driver.tap(block)

    assert bounced == State.LAYING
    assert operator.flow.in_hand.progress.state == State.PRESSING


def test_a_foot_that_bounces_does_not_do_the_next_thing_as_well(
    sit_down: Callable[..., PressOperator], store: Store
) -> None:
    operator = sit_down()
    at_the_check(operator, codes_of(store)[0])
    operator.step_on_the_switch()
    operator.driver.press_key("page down")

    assert operator.flow.in_hand.progress.state == State.LAYING


def test_a_double_tap_takes_back_one_tap_only(sit_down: Callable[..., PressOperator], store: Store) -> None:
    operator = sit_down()
    at_the_check(operator, codes_of(store)[0])
    operator.tap("All down")
    operator.driver.advance(0.5)
    back = operator.target("Take back")
    place = back.to_window(*back.center)
    operator.driver.touch(*place)
    operator.driver.touch(*place)

    assert operator.flow.in_hand.progress.state == State.CHECKING


def test_a_batch_that_is_loaded_with_a_bounce_is_not_printed_as_well(
    sit_down: Callable[..., PressOperator],
) -> None:
    operator = sit_down()
    operator.tap("Set-up")
    set_up, recipe = operator.flow.set_up, crew_vest_recipe()
    planned = PlannedJob(replace(recipe.job, reference="LC-0148"), recipe.plan)
    set_up.state = replace(set_up.state, phase=SetUpPhase.PLANNED, planned=planned)
    operator.desk.draw()
    operator.step_on_the_switch()
    operator.driver.press_key("page down")

    assert set_up.state.phase == SetUpPhase.LOADED


def test_the_question_of_a_hit_that_was_cut_off_tells_how_long_ago_it_began(
    sit_down: Callable[..., PressOperator], store: Store, clock: HeldClock, tmp_path: Path
) -> None:
    code = codes_of(store)[0]
    before = flow_on(store, clock, tmp_path)
    before.scan(code)
    before.act(Action(Tap.CLOSE_PRESS))
    clock.advance(599)
    operator = sit_down()
    operator.scan(code)
    operator.driver.advance(0.9)
    at_first = operator.sees("10:00 ago")
    operator.driver.advance(5)

    assert at_first
    assert operator.sees("10:05 ago")


def test_the_time_of_day_goes_on_while_nothing_is_tapped(sit_down: Callable[..., PressOperator]) -> None:
    operator = sit_down()
    at_first = operator.desk.screens[ScreenName.FLOOR].header.right
    operator.driver.advance(120, step_s=10)

    assert at_first.endswith(":00")
    assert operator.desk.screens[ScreenName.FLOOR].header.right.endswith(":02")


def test_a_screen_left_standing_follows_what_another_station_does(
    sit_down: Callable[..., PressOperator], store: Store, tmp_path: Path
) -> None:
    operator = sit_down()
    operator.scan(codes_of(store)[0])
    operator.tap("Something is wrong")
    flow_on(store, operator.driver.clock, tmp_path, station="Station 2").scan(codes_of(store)[0])
    operator.driver.advance(5)

    assert operator.flow.screen == ScreenName.GARMENT
    assert operator.sees("Station 2 has worked on this garment")
