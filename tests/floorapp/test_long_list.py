"""A list that goes on below its foot says so, on every screen, and a tap on what says it leads there."""

from collections.abc import Callable
from typing import Any

import pytest

from floorapp.screen_names import ScreenName
from floorapp.views import Action, Tap
from models.store.store import Store
from tests.floorapp.driver import LANDSCAPE, PORTRAIT, Driver
from tests.floorapp.press_operator import PressOperator
from tests.small_floor import codes_of

SIZES = pytest.mark.parametrize("size", [LANDSCAPE, PORTRAIT], ids=["landscape", "portrait"])
ROWS, HEIGHT_PX = 8, 350


@pytest.fixture
def tapped() -> list[int]:
    return []


@pytest.fixture
def rows(show: Any, tapped: list[int]) -> Any:
    """A list of eight buttons, of which not quite four are seen; `tapped` tells which were."""
    from floorapp.screens.parts import Listing
    from floorapp.widgets.buttons import PlainButton
    from floorapp.widgets.long_list import LongList

    def button(n: int) -> PlainButton:
        made = PlainButton(words=str(n))
        made.bind(on_tap=lambda _: tapped.append(n))
        return made

    made = LongList(size_hint=(None, None), size=(400, HEIGHT_PX))
    made.add_widget(Listing(records=tuple(range(ROWS)), maker=button, shows="action", spacing=0))
    return show(made)


def touch_the_sign(driver: Driver, rows: Any) -> None:
    driver.touch(rows.center_x, rows.y + rows.sign_px / 2)
    driver.advance(0.5, draw=True)


def test_a_list_that_fits_has_no_sign(rows: Any, stage: Driver) -> None:
    rows.height = rows.viewport_size[1]
    stage.frames(3)

    assert (rows.goes_on, rows.sign_px) == (False, 0)


def test_a_list_that_goes_on_has_its_sign_until_its_end_is_seen(rows: Any, stage: Driver) -> None:
    before = rows.goes_on
    rows.scroll_y = 0
    stage.frames(3)

    assert (before, rows.goes_on) == (True, False)


def test_the_sign_is_drawn_at_the_foot(rows: Any, stage: Driver) -> None:
    with_sign = [type(part).__name__ for part in rows._sign.children]
    rows.scroll_y = 0
    stage.frames(3)

    assert "Mesh" in with_sign
    assert "Rectangle" in with_sign
    assert len(rows._sign.children) == 0


def test_a_tap_on_the_sign_leads_on_and_never_to_what_it_covers(
    rows: Any, stage: Driver, tapped: list[int]
) -> None:
    seen_px = HEIGHT_PX - rows.sign_px
    touch_the_sign(stage, rows)
    assert (1 - rows.scroll_y) * (rows.viewport_size[1] - HEIGHT_PX) == pytest.approx(seen_px)

    touch_the_sign(stage, rows)
    assert (rows.scroll_y, rows.goes_on) == (0, False)
    assert tapped == []


def test_above_the_sign_a_tap_is_the_button_s(rows: Any, stage: Driver, tapped: list[int]) -> None:
    stage.touch(rows.center_x, rows.top - 1.5 * rows.viewport_size[1] / ROWS)
    stage.advance(0.5, draw=True)

    assert tapped == [1]


def test_what_is_scrolled_to_is_not_left_under_the_sign(rows: Any, stage: Driver) -> None:
    listing = rows.children[0]
    fourth = listing.children[-4]
    rows.scroll_to(fourth)
    stage.frames(3)

    assert fourth.to_window(0, fourth.y)[1] == pytest.approx(rows.y + rows.sign_px, abs=1)
    rows.scroll_to(listing.children[-1])
    stage.frames(3)
    assert rows.scroll_y == 1


@SIZES
def test_every_list_that_scrolls_up_and_down_has_the_sign(
    sit_down: Callable[..., PressOperator], store: Store, size: tuple[int, int]
) -> None:
    """But the ladder, which counts the rungs that it hides."""
    operator = sit_down(size)
    from kivy.uix.scrollview import ScrollView

    from floorapp.widgets.hit_ladder import HitLadder
    from floorapp.widgets.long_list import LongList

    operator.scan(codes_of(store)[0])
    operator.tap("Something is wrong")
    operator.tap("Back")
    operator.tap("Why these together?")
    for action in (
        Action(Tap.TO_FLOOR),
        Action(Tap.TO_SET_UP),
        Action(Tap.TO_REVIEW, "LC-0147"),
        Action(Tap.WHAT_IF, "LC-0147"),
    ):
        operator.driver.advance(0.5)
        operator.desk.act(action)
    operator.driver.frames(3)
    scrolled = {
        name: [w for w in screen.walk(restrict=True) if isinstance(w, ScrollView) and w.do_scroll_y]
        for name, screen in operator.desk.screens.items()
    }

    garment = operator.desk.screens[ScreenName.GARMENT]
    ladder = next(w for w in garment.walk(restrict=True) if isinstance(w, HitLadder))
    in_ladder = set(ladder.walk(restrict=True))
    others = [w for lists in scrolled.values() for w in lists if w not in in_ladder]
    assert all(scrolled[name] for name in scrolled)
    assert len(scrolled) == 7
    assert [w for w in others if not isinstance(w, LongList)] == []
