from dataclasses import replace

import numpy as np
import pytest
import zxingcpp
from PIL import Image

from models.tags.symbol import MODULES, symbol_of
from printables import tag_layout
from printables.errors import CannotWriteError, LabelSizeError, NothingToPrintError, SymbolNotReadBackError
from printables.system_fonts import NO_FONTS, SystemFonts
from printables.tag_labels import (
    LARGE_LABEL,
    SMALL_LABEL,
    LabelSize,
    label_layout,
    label_size,
    write_tag_labels,
)
from tests.tiny_fonts import make_font

EVERY_LABEL = pytest.mark.parametrize(
    ("size", "dpi", "dots"),
    [
        (SMALL_LABEL, 203, (400, 200)),
        (SMALL_LABEL, 300, (591, 295)),
        (LARGE_LABEL, 203, (496, 232)),
        (LARGE_LABEL, 300, (732, 343)),
    ],
    ids=str,
)


@EVERY_LABEL
def test_every_label_is_read_by_a_second_reader(tmp_path, crew_tags, size, dpi, dots):
    for tag, path in zip(crew_tags, write_tag_labels(crew_tags, tmp_path, size, dpi), strict=True):
        with Image.open(path) as label:
            (found,) = zxingcpp.read_barcodes(label.convert("L"))
        assert found.text == tag.code


@EVERY_LABEL
def test_a_label_is_black_and_white_at_the_printers_dots(tmp_path, crew_tags, size, dpi, dots):
    (path,) = write_tag_labels(crew_tags[:1], tmp_path, size, dpi)
    with Image.open(path) as label:
        assert (label.mode, label.size) == ("1", dots)
        assert label.info["dpi"] == pytest.approx((dpi, dpi), rel=1e-4)  # PNG says dots per whole metre


@EVERY_LABEL
def test_a_module_is_a_whole_number_of_dots(tmp_path, crew_tags, size, dpi, dots):
    (path,) = write_tag_labels(crew_tags[:1], tmp_path, size, dpi)
    layout = label_layout(size, dpi)
    module_dots = layout.module_mm * dpi / 25.4
    assert module_dots == pytest.approx(round(module_dots), abs=1e-9)
    assert round(module_dots) >= 3
    with Image.open(path) as label:
        printed = ~np.asarray(label)
    corner = round(layout.symbol.x * dpi / 25.4) + 4 * round(module_dots)
    side = MODULES * round(module_dots)
    expected = np.kron(np.array(symbol_of(crew_tags[0].code)), np.ones((round(module_dots),) * 2, dtype=bool))
    assert (printed[corner : corner + side, corner : corner + side] == expected).all()


def test_the_quiet_zone_of_a_label_is_blank(tmp_path, crew_tags):
    (path,) = write_tag_labels(crew_tags[:1], tmp_path, SMALL_LABEL, 203)
    with Image.open(path) as label:
        printed = ~np.asarray(label)
    edge, quiet, side = 8, 4 * 5, MODULES * 5  # 1 mm, four modules of five dots, the symbol
    zone = printed[edge : edge + side + 2 * quiet, edge : edge + side + 2 * quiet].copy()
    zone[quiet : quiet + side, quiet : quiet + side] = False
    assert not zone.any()


def test_a_name_that_only_a_font_of_the_computer_has_is_drawn_in_it(tmp_path, crew_tags):
    make_font(tmp_path / "fonts" / "squares.ttf", "山")
    tags, box = [replace(crew_tags[0], wearer="山")], label_layout(LARGE_LABEL, 300).wearer.box
    black = {}
    for name, fonts in (("with", SystemFonts([tmp_path / "fonts"])), ("without", NO_FONTS)):
        (path,) = write_tag_labels(tags, tmp_path / name, LARGE_LABEL, 300, fonts=fonts)
        with Image.open(path) as label:
            edges = (box.x, box.y, box.right, box.bottom)
            printed = ~np.asarray(label.crop([round(edge * 300 / 25.4) for edge in edges]))
        black[name] = printed.sum() / (box.height * 300 / 25.4) ** 2
    # a filled square of 0.7 by 0.8 em, against a thin frame with four digits
    assert black["with"] > 0.15
    assert black["without"] < 0.12


def test_labels_are_named_by_number_and_code(tmp_path, crew_tags):
    paths = write_tag_labels(crew_tags, tmp_path / "labels", SMALL_LABEL, 203)
    assert [path.name for path in paths] == [f"{tag.n:02}-{tag.code}.png" for tag in crew_tags]
    assert sorted((tmp_path / "labels").iterdir()) == list(paths)


def test_the_same_tag_gives_the_same_bytes(tmp_path, crew_tags):
    one, two = (
        write_tag_labels(crew_tags[1:2], tmp_path / name, LARGE_LABEL, 300)[0].read_bytes() for name in "ab"
    )
    assert one == two


@pytest.mark.parametrize(
    ("size", "dpi"),
    [
        (LabelSize(20, 10), 300),  # modules of less than 0.33 mm
        (LabelSize(50, 25), 72),  # modules of one dot
        (LabelSize(50, 17), 300),  # words too small
    ],
    ids=str,
)
def test_a_label_too_small_to_be_read_is_refused(tmp_path, crew_tags, size, dpi):
    with pytest.raises(LabelSizeError, match=r"is too small: .*; take a larger one"):
        write_tag_labels(crew_tags, tmp_path, size, dpi)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "size",
    [LabelSize(float("nan"), 25), LabelSize(50, float("nan")), LabelSize(-50, 25), LabelSize(5000, 25)],
    ids=str,
)
def test_a_size_that_no_label_has_is_refused(size):
    with pytest.raises(LabelSizeError, match="is no label"):
        label_layout(size, 203)


@pytest.mark.parametrize("text", ["62x29", "62 × 29 mm", " 62X29mm ", "62.0x29.0"])
def test_a_size_is_named_by_width_and_height(text):
    assert label_size(text) == LARGE_LABEL


@pytest.mark.parametrize("text", ["", "62", "62x", "x29", "-62x29", "62x29 in", "nanxnan", "1e9x1"])
def test_a_text_that_is_no_size_is_refused(text):
    with pytest.raises(LabelSizeError, match="is no label size; write width x height in mm, like 50x25"):
        label_size(text)


def test_another_size_can_be_named(tmp_path, crew_tags):
    (path,) = write_tag_labels(crew_tags[:1], tmp_path, label_size("100x50"), 203)
    with Image.open(path) as label:
        assert zxingcpp.read_barcodes(label.convert("L"))[0].text == crew_tags[0].code


def test_one_wrong_symbol_leaves_no_label_at_all(tmp_path, crew_tags, monkeypatch):
    last, other = crew_tags[-1].code, crew_tags[0].code
    monkeypatch.setattr(tag_layout, "symbol_of", lambda code: symbol_of(other if code == last else code))
    with pytest.raises(SymbolNotReadBackError, match=f"reads back as {other}"):
        write_tag_labels(crew_tags, tmp_path / "labels", SMALL_LABEL, 203)
    assert list(tmp_path.iterdir()) == []


def test_no_tags_make_no_labels(tmp_path):
    with pytest.raises(NothingToPrintError, match="no tags to print"):
        write_tag_labels([], tmp_path, SMALL_LABEL, 203)


def test_a_folder_that_cannot_be_made_is_named(tmp_path, crew_tags):
    (tmp_path / "labels").write_text("in the way")
    with pytest.raises(CannotWriteError, match=r"labels.*: cannot be written"):
        write_tag_labels(crew_tags, tmp_path / "labels", SMALL_LABEL, 203)
