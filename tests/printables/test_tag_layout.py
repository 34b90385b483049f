from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.geometry import Box
from models.tags.symbol import FULL_MODULES, MODULES
from printables.fitting import LEADING
from printables.lettering import width_em
from printables.paper import TAG_HEIGHT_MM, TAG_WIDTH_MM
from printables.tag import Tag
from printables.tag_labels import LARGE_LABEL, SMALL_LABEL, label_layout
from printables.tag_layout import EDGE_MM, LEAST_TEXT_MM, draw_tag, lay_out_tag
from printables.tag_sheets import SHEET_DOT_MM

SHEET_TAG = lay_out_tag(TAG_WIDTH_MM, TAG_HEIGHT_MM, SHEET_DOT_MM)
LAYOUTS = {
    "sheet": SHEET_TAG,
    "50x25 at 203": label_layout(SMALL_LABEL, 203),
    "50x25 at 300": label_layout(SMALL_LABEL, 300),
    "62x29 at 203": label_layout(LARGE_LABEL, 203),
    "62x29 at 300": label_layout(LARGE_LABEL, 300),
}
EVERY_LAYOUT = pytest.mark.parametrize("layout", LAYOUTS.values(), ids=LAYOUTS.keys())
ANY_TEXT = st.one_of(
    st.text(st.characters(), max_size=200),
    st.sampled_from(["山田太郎" * 50, "محمد علي", "👩\u200d🚒" * 70, "Ane\nØdegård", "x" * 200, ""]),
)
ANY_TAG = st.builds(
    Tag,
    code=st.just("K7KM4EQ7"),
    batch_name=ANY_TEXT,
    batch_reference=ANY_TEXT,
    size=ANY_TEXT,
    wearer=ANY_TEXT,
    number=ANY_TEXT,
    n=st.just(4999),
    of=st.just(5000),
    hits_line=ANY_TEXT,
)


def shrunk(box: Box, by_mm: float = 1e-6) -> Box:
    """The box without its rim, so that rounding at a shared edge is no overlap."""
    return Box(box.x + by_mm, box.y + by_mm, box.width - 2 * by_mm, box.height - 2 * by_mm)


@EVERY_LAYOUT
def test_nothing_on_a_tag_overlaps(layout):
    boxes = [shrunk(layout.symbol), *(shrunk(text_box.box) for text_box in layout.text_boxes)]
    assert not any(one.shares_area_with(other) for one, other in combinations(boxes, 2))


@EVERY_LAYOUT
def test_everything_keeps_clear_of_the_edge(layout):
    inside = Box(EDGE_MM, EDGE_MM, layout.width_mm - 2 * EDGE_MM, layout.height_mm - 2 * EDGE_MM)
    assert inside.holds(shrunk(layout.symbol))
    assert all(inside.holds(shrunk(text_box.box)) for text_box in layout.text_boxes)


@EVERY_LAYOUT
def test_the_symbol_has_four_light_modules_on_every_side(layout):
    assert layout.symbol.width == pytest.approx((MODULES + 8) * layout.module_mm, abs=1e-9)
    assert layout.symbol.height == layout.symbol.width
    assert FULL_MODULES == MODULES + 8


@EVERY_LAYOUT
def test_the_symbol_and_the_words_are_large_enough(layout):
    assert layout.is_readable
    assert layout.module_mm >= 0.33
    assert all(text_box.em_mm >= LEAST_TEXT_MM for text_box in layout.text_boxes)


@EVERY_LAYOUT
def test_the_code_in_plain_letters_is_as_wide_as_the_symbol_at_most(layout):
    assert width_em("K7KM 4EQ7", layout.code.chain) * layout.code.em_mm <= layout.symbol.width
    assert layout.code.em_mm * LEADING <= layout.code.box.height


@EVERY_LAYOUT
@given(ANY_TAG)
def test_no_name_however_long_or_strange_leaves_the_tag(layout, tag):
    for lettering, text_box in zip(draw_tag(tag, layout).letterings, layout.text_boxes, strict=True):
        allowed = shrunk(text_box.box, by_mm=-1e-6)
        assert all(allowed.holds(frame) for frame in lettering.frames)
        for run in lettering.runs:
            assert allowed.x <= run.x_mm <= allowed.right
            assert allowed.y <= run.baseline_mm - 0.7 * run.em_mm  # capitals are 0.7 em high
            assert run.baseline_mm <= allowed.bottom


@EVERY_LAYOUT
def test_a_garment_without_a_readable_name_is_still_told_by_number_and_place(layout, crew_tags):
    tag = replace(crew_tags[3], wearer="山田太郎", number="21")
    words = {run.text for lettering in draw_tag(tag, layout).letterings for run in lettering.runs}
    assert {"No 21", f"{tag.n} of {tag.of}", "5C", "71"} <= words


def test_a_tag_says_everything_about_its_garment(crew_tags):
    tag = replace(crew_tags[0], number="7")
    words = " ".join(run.text for lettering in draw_tag(tag, SHEET_TAG).letterings for run in lettering.runs)
    for said in (tag.size, tag.wearer, "No 7", "1 of 15", "LC-0147 Lightship crew vests", tag.hits_line):
        assert said in words.replace("\u00a0", " ")
    assert f"{tag.code[:4]} {tag.code[4:]}" in words
