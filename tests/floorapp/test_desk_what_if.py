"""What if in the real window, both ways up: fingers, keys, the foot switch, and the size of its targets."""

from collections.abc import Callable
from typing import Any

import pytest

from floorapp.screen_names import ScreenName
from floorapp.screens.what_if_presenter import TRIED
from floorapp.views import Action, Tap
from floorapp.what_if_flow import WhatIf
from tests.floorapp.driver import LANDSCAPE, PORTRAIT
from tests.floorapp.press_operator import BETWEEN_TAPS_S, PressOperator
from tests.put_off import PutOff

SIZES = pytest.mark.parametrize("size", [LANDSCAPE, PORTRAIT], ids=["landscape", "portrait"])
Size = tuple[int, int]
SitDown = Callable[..., PressOperator]


def trying(sit_down: SitDown, size: Size = LANDSCAPE) -> PressOperator:
    """An operator who has opened What if for the stored batch."""
    operator = sit_down(size)
    operator.flow.act(Action(Tap.TO_REVIEW, "LC-0147"))
    operator.desk.draw()
    operator.driver.frames(2)
    operator.tap("What if")
    operator.driver.advance(BETWEEN_TAPS_S)
    return operator


def state_of(operator: PressOperator) -> WhatIf:
    state = operator.flow.what_if.state
    assert state is not None
    return state


def screen_of(operator: PressOperator) -> Any:
    return operator.desk.screens[ScreenName.WHAT_IF]


def maps_on(operator: PressOperator) -> list[Any]:
    """The map as it is, and the tried one."""
    from floorapp.widgets.placement_map import PlacementMap

    return [w for w in screen_of(operator).walk(restrict=True) if isinstance(w, PlacementMap)]


def targets_on(operator: PressOperator) -> list[Any]:
    from floorapp.focus import Focusable
    from floorapp.widgets.placement_map import PieceTarget

    found = [w for w in screen_of(operator).walk(restrict=True) if isinstance(w, Focusable)]
    return [w for w in found if not w.disabled and not isinstance(w, PieceTarget)]


def tab_to(operator: PressOperator, words: str) -> None:
    """Tab until the target whose words begin so has the frame."""
    for _ in range(len(operator.desk.focus.targets())):
        operator.driver.press_key("tab")
        framed = next(w for w in operator.desk.focus.targets() if w.is_focused)
        if getattr(framed, "words", "").startswith(words):
            return
    raise AssertionError(f"no key reaches {words!r}")


@SIZES
def test_both_plans_stand_side_by_side_or_upright_one_above_the_other(sit_down: SitDown, size: Size) -> None:
    before, now = maps_on(trying(sit_down, size))

    if size == LANDSCAPE:
        assert (before.right <= now.x, before.y) == (True, now.y)
    else:
        assert (before.to_window(0, before.y)[1] >= now.to_window(0, now.top)[1], before.x) == (True, now.x)


@SIZES
def test_a_piece_is_dragged_elsewhere_by_a_finger(sit_down: SitDown, size: Size) -> None:
    operator = trying(sit_down, size)
    _, now = maps_on(operator)
    start, end = (now.to_window(*now.scale.to_px(point)) for point in ((280.0, 365.0), (300.0, 530.0)))
    operator.driver.drag(start, end)

    moved, was = (job.piece("wave").box for job in (state_of(operator).tried, state_of(operator).job))
    assert (moved.x - was.x, moved.y - was.y) == (20, 165)
    assert operator.sees("wave 20 mm right, 165 mm down")


@SIZES
def test_nothing_is_dragged_on_the_plan_as_it_is(sit_down: SitDown, size: Size) -> None:
    operator = trying(sit_down, size)
    before, _ = maps_on(operator)
    start, end = (before.to_window(*before.scale.to_px(point)) for point in ((280.0, 365.0), (300.0, 530.0)))
    operator.driver.drag(start, end)

    assert state_of(operator).tried == state_of(operator).job


@SIZES
@pytest.mark.parametrize("subject", ["platen 0", "material glitter-film", "piece wave"])
def test_every_target_is_large_enough_for_a_gloved_finger(
    sit_down: SitDown, size: Size, subject: str
) -> None:
    from floorapp.theme import PRIMARY_MM, TARGET_MM, to_mm
    from floorapp.widgets.buttons import PrimaryButton

    operator = trying(sit_down, size)
    operator.desk.act(Action(Tap.TRY_WHAT, subject))
    operator.flow.what_if.background = PutOff()
    operator.desk.act(Action(Tap.TRY_DRAG, "2 2 wave"))
    operator.desk.act(Action(Tap.TRY_WHAT, subject))
    operator.driver.frames(4)

    targets = targets_on(operator)
    words = [getattr(target, "words", "") for target in targets]
    assert {"Take the best so far", "Undo all changes", "Back"} <= set(words)
    for target in targets:
        least_mm = PRIMARY_MM if isinstance(target, PrimaryButton) else TARGET_MM
        assert to_mm(target.height) >= least_mm - 0.1, target
        assert to_mm(target.width) >= TARGET_MM - 0.1, target


@SIZES
def test_what_stands_still_lies_within_the_window_and_on_nothing_else(sit_down: SitDown, size: Size) -> None:
    """The maps, the table, and the buttons outside the list that scrolls."""
    from floorapp.widgets.long_list import LongList

    operator = trying(sit_down, size)
    operator.desk.act(Action(Tap.TRY_DRAG, "2 2 wave"))
    operator.driver.frames(4)
    screen = screen_of(operator)
    lists = [w for w in screen.walk(restrict=True) if isinstance(w, LongList)]
    scrolled = {w for long in lists for w in long.walk(restrict=True)}
    still = [*lists, *maps_on(operator), *(w for w in targets_on(operator) if w not in scrolled)]
    boxes = [(*w.to_window(*w.pos), w.width, w.height) for w in still]

    assert len(boxes) == 8  # the table, the steps, two maps, two turns, undo and back
    assert all(x >= 0 and y >= 0 and x + w <= size[0] and y + h <= size[1] for x, y, w, h in boxes)
    assert not [
        (a, b)
        for k, a in enumerate(boxes)
        for b in boxes[k + 1 :]
        if a[0] < b[0] + b[2] - 1 and b[0] < a[0] + a[2] - 1
        if a[1] < b[1] + b[3] - 1 and b[1] < a[1] + a[3] - 1
    ]


@SIZES
def test_the_keys_take_a_step_and_bring_it_into_view_first(sit_down: SitDown, size: Size) -> None:
    operator = trying(sit_down, size)
    tab_to(operator, "height")
    framed = next(w for w in operator.desk.focus.targets() if w.is_focused)
    rows = framed.parent.parent.parent  # the grid of steps, all that scrolls, the list
    low, high = rows.to_window(0, rows.y)[1] + rows.sign_px, rows.to_window(0, rows.top)[1]
    assert low <= framed.to_window(0, framed.y)[1]
    assert framed.to_window(0, framed.top)[1] <= high

    operator.driver.press_key("enter")
    assert state_of(operator).tried.press.platen_height_mm == 490


def test_the_keys_reach_the_pieces_of_the_tried_plan_alone(sit_down: SitDown) -> None:
    operator = trying(sit_down)
    pieces = [w.piece_id for w in operator.desk.focus.targets() if hasattr(w, "piece_id")]
    assert pieces == ["life-ring", "anchor", "wave"]

    for _ in range(2):
        operator.driver.press_key("tab")
    operator.driver.press_key("space")
    assert state_of(operator).subject == ("piece", "anchor")


def test_the_foot_switch_goes_back_and_leaves_nothing_stored(sit_down: SitDown) -> None:
    operator = trying(sit_down)
    operator.tap("width")
    operator.step_on_the_switch()

    assert operator.flow.screen == ScreenName.REVIEW
    assert operator.flow.work.store.recipe(operator.flow.work.store.batch("LC-0147").id).job.press == (
        state_of(operator).job.press
    )


def test_the_hits_are_turned_by_touch(sit_down: SitDown) -> None:
    operator = trying(sit_down)
    operator.tap("Next hit")

    assert operator.sees("As it is: Hit 2, back")
    assert operator.sees(f"{TRIED}: Hit 2, back")


def test_a_second_enter_takes_the_framed_step_again(sit_down: SitDown) -> None:
    operator = trying(sit_down)
    tab_to(operator, "height")
    for _ in range(3):
        operator.driver.advance(BETWEEN_TAPS_S)
        operator.driver.press_key("enter")

    assert operator.flow.screen == ScreenName.WHAT_IF
    assert state_of(operator).tried.press.platen_height_mm == 500 - 30


def test_enter_after_a_touch_goes_back_and_the_try_is_there_again(sit_down: SitDown) -> None:
    operator = trying(sit_down)
    operator.tap("width")
    tried = state_of(operator).tried
    operator.step_on_the_switch("enter")
    left_for = operator.flow.screen
    told = operator.sees("The try is kept")
    operator.tap("What if")

    assert (left_for, told) == (ScreenName.REVIEW, True)
    assert tried != state_of(operator).job
    assert state_of(operator).tried == tried


def test_on_other_screens_enter_is_the_primary_action_s_again_once_a_framed_target_was_used(
    sit_down: SitDown,
) -> None:
    operator = trying(sit_down)
    tab_to(operator, "Back")
    operator.driver.press_key("enter")

    assert operator.flow.screen == ScreenName.REVIEW
    assert not [target for target in operator.desk.focus.targets() if target.is_focused]
