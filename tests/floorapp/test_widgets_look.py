"""On real pages: targets large enough, words that stand out from what they lie on, digits seen from afar."""

from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from floorapp.palette import Colour
from tests.contrast import contrast
from tests.floorapp.driver import LANDSCAPE, PORTRAIT, Driver
from tests.floorapp.gallery import PAGES, code_keys, press

WAYS_UP = pytest.mark.parametrize("portrait", [False, True], ids=["landscape", "portrait"])
EVERY_PAGE = pytest.mark.parametrize("page", PAGES, ids=lambda page: page.__name__)


def show(stage: Driver, page: Any, *, portrait: bool) -> Any:
    stage.resize(PORTRAIT if portrait else LANDSCAPE)
    shown = page(portrait=portrait)
    stage.app.root.add_widget(shown)
    stage.frames(4)
    return shown


@WAYS_UP
@EVERY_PAGE
def test_every_target_is_at_least_15_mm_each_way(stage: Driver, page: Any, portrait: bool) -> None:
    from floorapp.theme import TARGET_MM, to_mm
    from floorapp.widgets.buttons import Tappable

    shown = show(stage, page, portrait=portrait)
    tappable = (widget for widget in shown.walk(restrict=True) if isinstance(widget, Tappable))
    for target in (widget for widget in tappable if not widget.disabled):
        assert to_mm(target.width) >= TARGET_MM - 1e-6  # pixels as floats
        assert to_mm(target.height) >= TARGET_MM - 1e-6


@WAYS_UP
@EVERY_PAGE
def test_the_primary_action_is_at_least_20_mm_high(stage: Driver, page: Any, portrait: bool) -> None:
    from floorapp.theme import PRIMARY_MM, to_mm
    from floorapp.widgets.buttons import PrimaryButton

    shown = show(stage, page, portrait=portrait)
    for button in shown.walk(restrict=True):
        if isinstance(button, PrimaryButton):
            assert to_mm(button.height) >= PRIMARY_MM - 1e-6  # pixels as floats


@WAYS_UP
@EVERY_PAGE
def test_all_words_stand_out_from_the_pixels_around_them(
    stage: Driver, page: Any, portrait: bool, tmp_path: Path
) -> None:
    shown = show(stage, page, portrait=portrait)
    with Image.open(stage.shot(tmp_path / "page.png")) as picture:
        for label, ground in grounds(shown, picture):
            assert contrast(tuple(label.color), ground) >= 4.5, (label.text, ground)


def grounds(shown: Any, picture: Image.Image) -> Iterator[tuple[Any, Colour]]:
    """Every label that can be seen whole, and the colour that most of its pixels have."""
    from floorapp.widgets.words import Text

    labels = (widget for widget in shown.walk(restrict=True) if isinstance(widget, Text) and widget.text)
    for label in labels:
        left, top, right, bottom = box = box_on(picture, label)
        is_whole = min(left, top) >= 0 and right <= picture.width and bottom <= picture.height
        if is_whole and opacity(label) == 1:
            pixels = Counter(picture.crop(box).get_flattened_data())
            red, green, blue = pixels.most_common(1)[0][0]
            yield label, (red / 255, green / 255, blue / 255, 1.0)


def box_on(picture: Image.Image, widget: Any) -> tuple[int, int, int, int]:
    """Where a widget lies on a picture of the window: left, top, right, bottom."""
    left, bottom = widget.to_window(widget.x, widget.y)
    edges = (left, picture.height - bottom - widget.height, left + widget.width, picture.height - bottom)
    return tuple(map(round, edges))


def opacity(widget: Any) -> float:
    """What is left of a widget's own opacity under its parents'."""
    product = 1.0
    while hasattr(widget, "opacity") and widget.parent is not widget:
        product *= widget.opacity
        widget = widget.parent
    return product


@WAYS_UP
@pytest.mark.parametrize("left_s", [9, 15, 100])
def test_the_countdowns_digits_are_at_least_20_mm_high(
    stage: Driver, portrait: bool, left_s: int, tmp_path: Path
) -> None:
    from floorapp.theme import DIGITS_MM, to_mm
    from floorapp.widgets.countdown_panel import CountdownPanel

    shown = show(stage, press, portrait=portrait)
    panel = next(widget for widget in shown.walk(restrict=True) if isinstance(widget, CountdownPanel))
    panel.left_s = left_s
    stage.frames(3)
    digits = panel.ids.digits
    with Image.open(stage.shot(tmp_path / "page.png")) as picture:
        white = picture.crop(box_on(picture, digits)).convert("L").point(lambda grey: 255 * (grey > 200))
        _, top, _, end = white.getbbox()
    assert to_mm(end - top) >= DIGITS_MM
    assert digits.texture_size[0] <= digits.width


@WAYS_UP
def test_the_keys_for_a_code_are_all_on_the_screen(stage: Driver, portrait: bool) -> None:
    from floorapp.widgets.key_pad import Key
    from models.tags.code import ALPHABET

    shown = show(stage, code_keys, portrait=portrait)
    keys = [widget for widget in shown.walk(restrict=True) if isinstance(widget, Key)]
    assert "".join(key.words for key in keys) == ALPHABET
    assert all(key.x >= 0 and key.right <= stage.window.width and key.y >= 0 for key in keys)


def test_the_figures_of_a_review_stand_in_boxes_of_one_height(stage: Driver) -> None:
    from floorapp.screens.parts import Listing
    from floorapp.screens.review import figure_box
    from floorapp.screens.review_presenter import Figure

    basis = ("1 held", "21 of 23 at first; likely 73 to 98 %, and some further words", "none", "1 spoiled")
    figures = tuple(Figure("91 %", "of something", told) for told in basis)
    listing = Listing(cols=2, records=figures, maker=figure_box, shows="figure", size_hint_x=None, width=600)
    stage.app.root.add_widget(listing)
    stage.frames(6)
    heights = [box.height for box in reversed(listing.children)]

    assert heights[0] == heights[1]
    assert heights[2] == heights[3]
    assert all(box.height >= box.minimum_height for box in listing.children)
