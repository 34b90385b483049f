"""Slips at the real window, at both sizes: where a finger lands that taps once more, stray keys."""

from collections.abc import Callable
from pathlib import Path
from random import Random
from typing import Any

import pytest

from floorapp.screen_names import ScreenName
from floorapp.views import Action, NoticeView, Tap, Tone
from models.garment.cycle import State
from models.garment.events import Held
from models.store.store import Store
from tests.floorapp.driver import LANDSCAPE, PORTRAIT
from tests.floorapp.press_operator import PressOperator
from tests.small_floor import called_by, codes_of

SIZES = pytest.mark.parametrize("size", [LANDSCAPE, PORTRAIT], ids=["landscape", "portrait"])
SitDown = Callable[..., PressOperator]
HOLDS, SPOILS = {Tap.HOLD, Tap.ASK_HOLD}, {Tap.SPOIL, Tap.ASK_SPOIL}
ABOUT_A_FINDING = {
    Tap.LOOK_CLOSER, Tap.CHOOSE_KIND, Tap.TURN_MAP, Tap.CHOOSE_REASON, Tap.TYPE_REASON,
    Tap.BACK, Tap.RELEASE, Tap.HOLD, Tap.ASK_HOLD, Tap.ASK_SPOIL,
}  # fmt: skip
"""What is tapped on the way to a hold and a spoiling, and back again."""
LINE = NoticeView("a line that says what is wrong", Tone.ATTENTION)
Box = tuple[float, float, float, float]


def at_the_check(operator: PressOperator, code: str) -> None:
    operator.scan(code)
    operator.press()
    operator.tap("Hot ones off")
    operator.wait_for_the_rest()
    operator.scan(code)
    operator.tap("Cold ones off")


def buttons(operator: PressOperator) -> list[Any]:
    """What can be tapped on the screen and does something of its own."""
    screen = operator.desk.screens[operator.flow.screen]
    widgets = [w for w in screen.walk(restrict=True) if getattr(w, "action", None) is not None]
    return [w for w in widgets if not w.disabled and w.get_root_window() is not None]


def places(operator: PressOperator, taps: set[Tap]) -> list[Box]:
    found = [w for w in buttons(operator) if w.action.tap in taps]
    return [(*w.to_window(*w.pos), w.width, w.height) for w in found]


def meet(one: Box, other: Box) -> bool:
    beside = one[0] + one[2] <= other[0] or other[0] + other[2] <= one[0]
    return not beside and one[1] < other[1] + other[3] and other[1] < one[1] + one[3]


@SIZES
def test_spoil_never_stands_where_hold_stood_a_tap_before(
    sit_down: SitDown, store: Store, size: tuple[int, int]
) -> None:
    """A hundred taps on and about findings, with and without a line above that pushes everything down."""
    operator, random = sit_down(size), Random(4)
    at_the_check(operator, codes_of(store)[0])
    held, spoiled, met = 0, 0, []
    for step in range(100):
        before = places(operator, HOLDS)
        tappable = [w for w in buttons(operator) if w.action.tap in ABOUT_A_FINDING]
        operator.driver.advance(0.5)
        operator.driver.tap(random.choice(tappable or [operator.target("Back")]))
        if operator.flow.screen == ScreenName.FINDING and random.random() < 0.5:
            operator.tap_piece(random.choice(["anchor", "wave"]))
        operator.flow.notice = LINE if step % 3 else None
        operator.desk.draw()
        operator.driver.frames(3)
        after = places(operator, SPOILS)
        held, spoiled = held + len(before), spoiled + len(after)
        met += [(a, b, operator.flow.screen) for a in before for b in after if meet(a, b)]

    assert held > 40
    assert spoiled > 40
    assert met == []


@SIZES
def test_hold_and_spoil_stay_where_they_are_whatever_is_marked(
    sit_down: SitDown, store: Store, size: tuple[int, int]
) -> None:
    operator = sit_down(size)
    at_the_check(operator, codes_of(store)[0])
    operator.tap("Something is wrong")
    at_first = (places(operator, {Tap.ASK_HOLD}), places(operator, {Tap.ASK_SPOIL}))
    operator.tap_piece("anchor")
    operator.tap("Lifts")

    assert (places(operator, {Tap.ASK_HOLD}), places(operator, {Tap.ASK_SPOIL})) == at_first


@SIZES
def test_the_foot_that_comes_down_after_a_hold_neither_releases_nor_spoils_it(
    sit_down: SitDown, store: Store, size: tuple[int, int]
) -> None:
    operator = sit_down(size)
    code = codes_of(store)[0]
    at_the_check(operator, code)
    operator.tap("Something is wrong")
    operator.tap_piece("anchor")
    operator.tap("Scorched")
    for _ in range(4):
        operator.step_on_the_switch()

    assert store.garment(code).progress.state == State.HELD
    assert operator.flow.screen in {ScreenName.FLOOR, ScreenName.CODE_ENTRY}


# ---- the reason


@SIZES
def test_a_reason_is_typed_on_the_large_keys(sit_down: SitDown, store: Store, size: tuple[int, int]) -> None:
    operator = sit_down(size)
    code = codes_of(store)[0]
    operator.scan(code)
    operator.tap("Something is wrong")
    operator.tap("Hold it")
    operator.tap("Type another")
    operator.driver.advance(0.5)
    for key in (*"ZIP", "space", *"STUCK"):
        operator.driver.tap(next(w for w in operator.desk.focus.targets() if getattr(w, "words", "") == key))
    operator.tap("That is the reason")
    operator.tap("Hold it")

    assert store.garment(code).log[-1].what == Held("Zip stuck")
    assert operator.sees("Zip stuck.")


def test_a_reason_is_typed_on_a_keyboard_however_slowly(sit_down: SitDown, store: Store) -> None:
    operator = sit_down()
    code = codes_of(store)[0]
    operator.scan(code)
    operator.tap("Something is wrong")
    operator.tap("Hold it")
    operator.tap("Type another")
    for key in (*"ZIP", "space", *"STUCK", "enter"):
        operator.driver.press_key(key)
        operator.driver.advance(3)
    operator.tap("That is the reason")
    operator.tap("Hold it")

    assert store.garment(code).log[-1].what == Held("Zip stuck")


def test_a_scan_where_a_reason_is_typed_opens_its_garment(sit_down: SitDown, store: Store) -> None:
    operator = sit_down()
    first, second = codes_of(store)
    operator.scan(first)
    operator.tap("Something is wrong")
    operator.tap("Hold it")
    operator.tap("Type another")
    operator.scan(second)

    assert operator.flow.in_hand.row.code == second
    assert operator.flow.screen == ScreenName.GARMENT


# ---- a look


def test_a_finger_on_the_review_s_list_only_looks(sit_down: SitDown, store: Store) -> None:
    operator = sit_down()
    code = codes_of(store)[0]
    operator.desk.act(Action(Tap.TO_REVIEW, "LC-0147"))
    operator.driver.frames(4)
    row = next(w for w in operator.desk.screens[ScreenName.REVIEW].walk() if type(w).__name__ == "GarmentRow")
    operator.driver.advance(1)
    operator.driver.tap(row)
    looked = (operator.sees("Looked up"), store.garment(code).log)
    operator.tap("Take it up here")

    assert looked == (True, ())
    assert store.garment(code).progress.state == State.LAYING


# ---- stray keys


def framed(operator: PressOperator) -> list[str]:
    return [getattr(w, "words", "") for w in operator.desk.focus.targets() if w.is_focused]


def test_tab_moves_nothing_on_the_floor(sit_down: SitDown, store: Store, tmp_path: Path) -> None:
    """Some scanners end a code with Tab: the Enter that comes later is still the large block's."""
    operator = sit_down()
    operator.scan(codes_of(store)[0])
    operator.tap("To the floor")
    operator.driver.advance(1, draw=True)
    before = operator.driver.shot(tmp_path / "before.png").read_bytes()
    for modifiers in ((), (), ("shift",)):
        operator.driver.press_key("tab", modifiers)
    after = operator.driver.shot(tmp_path / "after.png").read_bytes()
    operator.step_on_the_switch("enter")

    assert before == after
    assert operator.flow.screen == ScreenName.CODE_ENTRY


def test_the_arrows_reach_every_target_of_the_floor(sit_down: SitDown, store: Store) -> None:
    operator = sit_down()
    operator.scan(codes_of(store)[0])
    operator.tap("To the floor")
    seen: list[str] = []
    for _ in operator.desk.focus.targets():
        operator.driver.press_key("right")
        seen += framed(operator)

    assert {"Find", "Set-up", "Scan a tag"} <= set(seen)
    assert any(called_by(store, codes_of(store)[0]) in words for words in seen)


def test_a_frame_that_was_left_standing_is_forgotten(sit_down: SitDown) -> None:
    operator = sit_down()
    operator.driver.press_key("right")
    at_first = framed(operator)
    operator.driver.advance(16)
    operator.step_on_the_switch("enter")

    assert len(at_first) == 1
    assert operator.flow.screen == ScreenName.CODE_ENTRY


def test_a_frame_does_not_stay_on_the_call_when_another_garment_is_called(
    sit_down: SitDown, store: Store
) -> None:
    operator = sit_down()
    first, second = codes_of(store)
    operator.driver.advance(0.5, draw=True)
    calls = [called_by(store, code) for code in (first, second)]
    for _ in operator.desk.focus.targets():
        operator.driver.press_key("right")
        if framed(operator)[0] in calls:
            break
    at_first = framed(operator)
    operator.flow.work.hold(operator.flow.work.find(first), "a kit is missing")
    operator.flow.look_around()
    operator.driver.advance(0.5, draw=True)

    assert at_first == [calls[0]]
    assert operator.sees(calls[1])
    assert framed(operator) == []
