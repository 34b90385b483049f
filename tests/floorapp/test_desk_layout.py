"""The real window at both sizes: large targets, nothing outside, nothing on top of another."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from floorapp.screen_names import ScreenName
from floorapp.views import NoticeView, Tone
from models.garment.progress import Recipe
from models.geometry import Box
from models.recipe.heat_finding import HeatFinding
from models.store.store import Store
from tests.floorapp.conftest import StartApp
from tests.floorapp.driver import LANDSCAPE, PORTRAIT
from tests.floorapp.press_operator import PressOperator, app_on
from tests.held_clock import HeldClock
from tests.sample_jobs import FOAM, box_piece, crew_vest_plan, job_of
from tests.small_floor import codes_of, loaded_store

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
@pytest.mark.parametrize("asked", ["Scan a tag", "Opened early"])
def test_the_large_keys_are_large_and_lie_on_nothing_under_a_notice_too(
    sit_down: Callable[..., PressOperator], store: Store, size: tuple[int, int], asked: str
) -> None:
    from floorapp.focus import Focusable
    from floorapp.theme import TARGET_MM, to_mm

    operator = sit_down(size)
    if asked == "Opened early":
        operator.scan(codes_of(store)[0])
        operator.tap("Laid")
    operator.tap(asked)
    operator.flow.notice = NoticeView("a line that says what is wrong", Tone.ATTENTION)
    operator.desk.draw()
    operator.driver.frames(4)
    keys = [w for w in operator.desk.screens[operator.flow.screen].walk() if isinstance(w, Focusable)]
    boxes = [(*w.to_window(*w.pos), w.width, w.height) for w in keys]

    assert len(boxes) >= 13  # eleven keys, back, and what is done with it
    assert all(min(to_mm(w), to_mm(h)) >= TARGET_MM - 0.1 for _, _, w, h in boxes)
    assert not [
        (a, b)
        for k, a in enumerate(boxes)
        for b in boxes[k + 1 :]
        if a[0] < b[0] + b[2] and b[0] < a[0] + a[2] and a[1] < b[1] + b[3] and b[1] < a[1] + a[3]
    ]


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


def laying_with_too_little_heat(materials: int) -> Recipe:
    """One piece of each material is laid at once, pad in and cover on, and each gets too little heat."""
    films = [replace(FOAM, key=f"film-{n}", label=f"Film number {n}") for n in range(materials)]
    pieces = [box_piece(f"lamp-{n}", film, Box(60 * n, 200, 40, 40)) for n, film in enumerate(films)]
    names = tuple(piece.id for piece in pieces)
    hit = replace(crew_vest_plan().hits[0], lay=names, count=names, peel=(), pad=True, cover=True)
    short = tuple(HeatFinding(name, 1, 10.0, 3.2, is_sure=True, text="3 s short") for name in names)
    return Recipe(job_of(pieces, films), replace(crew_vest_plan(), hits=(hit,)), short)


@pytest.fixture
def sit_down_to_lay(start_app: StartApp, tmp_path: Path) -> Callable[..., PressOperator]:
    """A person before a garment of which so many materials are to be laid."""

    def operator(materials: int, size: tuple[int, int]) -> PressOperator:
        store = loaded_store(tmp_path / "lay", HeldClock(), laying_with_too_little_heat(materials))
        operator = PressOperator(start_app(lambda clock: app_on(store, tmp_path, clock), size))
        operator.scan(codes_of(store)[0])
        operator.driver.frames(4)
        return operator

    return operator


def lines_to_lay(operator: PressOperator) -> list[bool]:
    """For each line, whether all of it lies within the list that it stands in."""
    from floorapp.widgets.cards import LineRow

    card = operator.desk.screens[ScreenName.GARMENT]._card
    told = card.ids.told
    low, high = told.to_window(0, told.y)[1], told.to_window(0, told.top)[1]
    rows = [row for row in card.walk(restrict=True) if isinstance(row, LineRow)]
    return [row.to_window(0, row.y)[1] >= low and row.to_window(0, row.top)[1] <= high for row in rows]


def goes_on(operator: PressOperator) -> bool:
    """Whether the card says that more of it stands below."""
    return bool(operator.desk.screens[ScreenName.GARMENT]._card.ids.told.goes_on)


@SIZES
def test_four_materials_to_lay_are_all_seen_below_a_warning(
    sit_down_to_lay: Callable[..., PressOperator], size: tuple[int, int]
) -> None:
    operator = sit_down_to_lay(4, size)

    assert operator.sees("Too little heat")
    assert lines_to_lay(operator) == [True] * 4
    assert not goes_on(operator)


@SIZES
def test_where_more_is_to_be_laid_than_is_seen_a_sign_says_so_until_it_was_scrolled_to(
    sit_down_to_lay: Callable[..., PressOperator], size: tuple[int, int]
) -> None:
    operator = sit_down_to_lay(8, size)
    told = operator.desk.screens[ScreenName.GARMENT]._card.ids.told
    before = (goes_on(operator), lines_to_lay(operator)[-1])
    middle_x, middle_y = told.to_window(*told.center)
    operator.driver.drag((middle_x, middle_y), (middle_x, middle_y + 600))
    operator.driver.advance(2, draw=True)

    assert before == (True, False)
    assert (goes_on(operator), lines_to_lay(operator)[-1]) == (False, True)


def test_the_next_garment_s_list_is_seen_from_its_beginning(
    sit_down_to_lay: Callable[..., PressOperator],
) -> None:
    operator = sit_down_to_lay(8, LANDSCAPE)
    told = operator.desk.screens[ScreenName.GARMENT]._card.ids.told
    told.scroll_y = 0
    operator.scan(codes_of(operator.flow.work.store)[1])

    assert told.scroll_y == 1
