from collections import Counter
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pypdfium2
import pytest
import zxingcpp

from models.tags.symbol import symbol_of
from printables import tag_layout
from printables.errors import CannotWriteError, NothingToPrintError, SymbolNotReadBackError
from printables.paper import A4, LETTER
from printables.system_fonts import NO_FONTS, SystemFonts
from printables.tag_sheets import write_tag_sheets
from tests.tiny_fonts import make_font

MADE_AT = datetime(2026, 11, 2, 8, 30, tzinfo=UTC)


def pages_of(path, dpi=300):
    with pypdfium2.PdfDocument(path) as document:
        return [page.render(scale=dpi / 72, grayscale=True).to_pil() for page in document]


def codes_read_from(path, dpi=300):
    return Counter(found.text for page in pages_of(path, dpi) for found in zxingcpp.read_barcodes(page))


@pytest.mark.parametrize("paper", [A4, LETTER], ids=lambda paper: paper.name)
def test_every_tag_of_a_printed_page_is_read_by_a_second_reader(tmp_path, crew_tags, paper):
    write_tag_sheets(crew_tags, tmp_path / "tags.pdf", paper, made_at=MADE_AT)
    assert codes_read_from(tmp_path / "tags.pdf") == Counter(tag.code for tag in crew_tags)


def test_a_poor_scan_of_the_page_is_still_read(tmp_path, crew_tags):
    write_tag_sheets(crew_tags, tmp_path / "tags.pdf", A4, made_at=MADE_AT)
    assert codes_read_from(tmp_path / "tags.pdf", dpi=100) == Counter(tag.code for tag in crew_tags)


def test_the_pages_have_the_size_of_the_paper(tmp_path, crew_tags):
    write_tag_sheets(crew_tags, tmp_path / "tags.pdf", LETTER, made_at=MADE_AT)
    with pypdfium2.PdfDocument(tmp_path / "tags.pdf") as document:
        assert [page.get_size() for page in document] == [(pytest.approx(612), pytest.approx(792))] * 2


def test_a_sheet_is_drawn_in_lines_and_letters_without_pictures(tmp_path, crew_tags):
    write_tag_sheets(crew_tags, tmp_path / "tags.pdf", A4, made_at=MADE_AT)
    with pypdfium2.PdfDocument(tmp_path / "tags.pdf") as document:
        kinds = {thing.type for page in document for thing in page.get_objects()}
        text = document[0].get_textpage().get_text_bounded()
    assert kinds == {pypdfium2.raw.FPDF_PAGEOBJ_PATH, pypdfium2.raw.FPDF_PAGEOBJ_TEXT}
    assert "Ane Ødegård" in text


def test_the_same_tags_give_the_same_bytes(tmp_path, crew_tags):
    for name in ("one.pdf", "two.pdf"):
        write_tag_sheets(crew_tags, tmp_path / name, A4, made_at=MADE_AT)
    write_tag_sheets(crew_tags, tmp_path / "later.pdf", A4, made_at=MADE_AT + timedelta(days=1))
    one, two, later = ((tmp_path / name).read_bytes() for name in ("one.pdf", "two.pdf", "later.pdf"))
    assert one == two
    assert one != later


def spoiled(code):
    """A symbol with its middle blacked out: more than level Q can mend."""
    return tuple(
        tuple(dark or (5 < x < 16 and 5 < y < 16) for x, dark in enumerate(row))
        for y, row in enumerate(symbol_of(code))
    )


def test_a_spoiled_symbol_is_refused_and_what_stood_there_still_stands(tmp_path, crew_tags, monkeypatch):
    out = tmp_path / "tags.pdf"
    out.write_bytes(b"the tags of yesterday")
    last = crew_tags[-1].code
    monkeypatch.setattr(
        tag_layout, "symbol_of", lambda code: spoiled(code) if code == last else symbol_of(code)
    )
    with pytest.raises(SymbolNotReadBackError, match="reads back as nothing; nothing was written"):
        write_tag_sheets(crew_tags, out, A4, made_at=MADE_AT)
    assert out.read_bytes() == b"the tags of yesterday"
    assert list(tmp_path.iterdir()) == [out]


def test_a_symbol_of_another_tag_is_refused(tmp_path, crew_tags, monkeypatch):
    other = crew_tags[1].code
    monkeypatch.setattr(tag_layout, "symbol_of", lambda _: symbol_of(other))
    with pytest.raises(SymbolNotReadBackError, match=f"reads back as {other}"):
        write_tag_sheets(crew_tags, tmp_path / "tags.pdf", A4, made_at=MADE_AT)
    assert list(tmp_path.iterdir()) == []


def test_no_tags_make_no_file(tmp_path):
    with pytest.raises(NothingToPrintError, match="no tags to print"):
        write_tag_sheets([], tmp_path / "tags.pdf", A4, made_at=MADE_AT)
    assert list(tmp_path.iterdir()) == []


def test_a_place_that_cannot_be_written_is_named(tmp_path, crew_tags):
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(CannotWriteError, match=r"file.tags\.pdf: cannot be written"):
        write_tag_sheets(crew_tags, tmp_path / "file" / "tags.pdf", A4, made_at=MADE_AT)


@pytest.mark.parametrize("file", ["squares.ttf", "squares.ttc"])
def test_a_name_that_only_a_font_of_the_computer_has_is_printed_in_it(tmp_path, crew_tags, file):
    make_font(tmp_path / "fonts" / file, "山田")
    tags = [replace(crew_tags[0], wearer="山田")]
    texts = {}
    for name, fonts in (("with", SystemFonts([tmp_path / "fonts"])), ("without", NO_FONTS)):
        write_tag_sheets(tags, tmp_path / name, A4, made_at=MADE_AT, fonts=fonts)
        with pypdfium2.PdfDocument(tmp_path / name) as document:
            texts[name] = document[0].get_textpage().get_text_range()
    assert "山田" in texts["with"]
    assert "山" not in texts["without"]
    assert "5C" in texts["without"]  # the code point stands for the letter


def test_progress_counts_each_tag_drawn_and_read_back(tmp_path, crew_tags):
    told = []
    write_tag_sheets(
        crew_tags, tmp_path / "tags.pdf", A4, made_at=MADE_AT, progress=lambda *step: told.append(step)
    )
    assert told == [(step, 30) for step in range(1, 31)]
