"""The real window at both sizes: large targets, nothing outside, nothing on top of another."""

from collections.abc import Callable

import pytest

from floorapp.screen_names import ScreenName
from models.store.store import Store
from tests.floorapp.driver import LANDSCAPE, PORTRAIT
from tests.floorapp.press_operator import PressOperator
from tests.small_floor import codes_of

SIZES = pytest.mark.parametrize("size", [LANDSCAPE, PORTRAIT], ids=["landscape", "portrait"])


@SIZES
def test_every_target_is_large_enough_for_a_gloved_finger(
    sit_down: Callable[..., PressOperator], store: Store, size: tuple[int, int]
) -> None:
    from floorapp.focus import Focusable
    from floorapp.theme import PRIMARY_MM, TARGET_MM, to_mm
    from floorapp.widgets.buttons import PrimaryButton
    from floorapp.widgets.placement_map import PieceTarget

    operator = sit_down(size)
    operator.scan(codes_of(store)[0])
    for step in ("Something is wrong", "Back", "Why these together?", "Back", "Laid"):
        operator.tap(step)
        targets = [w for w in operator.desk.screens[operator.flow.screen].walk() if isinstance(w, Focusable)]
        for target in targets:
            if target.disabled or isinstance(target, PieceTarget):
                continue  # takes no tap; a touch beside a piece still finds it
            least_mm = PRIMARY_MM if isinstance(target, PrimaryButton) else TARGET_MM
            assert to_mm(target.height) >= least_mm - 0.1, target
            assert to_mm(target.width) >= TARGET_MM - 0.1, target


@SIZES
def test_nothing_to_tap_lies_outside_the_window_or_on_another(
    sit_down: Callable[..., PressOperator], store: Store, size: tuple[int, int]
) -> None:
    operator = sit_down(size)
    operator.scan(codes_of(store)[0])
    targets = [
        w
        for w in operator.desk.screens[ScreenName.GARMENT].walk()
        if getattr(w, "words", "") and hasattr(w, "is_focused")
    ]
    boxes = [(*w.to_window(*w.pos), w.width, w.height) for w in targets]

    assert all(x >= 0 and y >= 0 and x + w <= size[0] and y + h <= size[1] for x, y, w, h in boxes)
    assert not any(
        a is not b and a[0] < b[0] + b[2] and b[0] < a[0] + a[2] and a[1] < b[1] + b[3] and b[1] < a[1] + a[3]
        for a in boxes
        for b in boxes
    )


@SIZES
def test_the_bar_of_a_long_list_lies_on_nothing(
    sit_down: Callable[..., PressOperator], store: Store, size: tuple[int, int]
) -> None:
    operator = sit_down(size)
    from kivy.uix.scrollview import ScrollView

    from floorapp.views import Action, Tap
    from floorapp.widgets.buttons import Tappable
    from floorapp.widgets.cards import Panel

    operator.desk.act(Action(Tap.TO_REVIEW, "LC-0147"))
    operator.driver.frames(4)
    screen = operator.desk.screens[ScreenName.REVIEW]
    lists = [w for w in screen.walk(restrict=True) if isinstance(w, ScrollView) and w.do_scroll_y]
    ends = [
        (box.to_window(box.right, 0)[0], scroll.to_window(scroll.right, 0)[0] - scroll.bar_width)
        for scroll in lists
        for box in scroll.walk(restrict=True)
        if isinstance(box, Panel | Tappable)
    ]

    assert len(ends) >= 6  # four figures, two garments
    assert [(end, bar) for end, bar in ends if end > bar] == []
