import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from printables.code_points import code_point_rows
from printables.fonts import FAMILIES
from printables.lettering import BOLD, REGULAR, Run, advances_em, plain_line, runs_of, width_em

ANY_TEXT = st.text(st.characters(), max_size=80)


@pytest.mark.parametrize(
    ("name", "family"),
    [
        ("Ødegård", "B612"),
        ("Годунов", "NotoSans"),
        ("Παπαδόπουλος", "NotoSans"),
        ("לוי", "NotoSansHebrew"),
        ("علي", "NotoSansArabic"),
        ("Հակոբ", "NotoSansArmenian"),
        ("ნინო", "NotoSansGeorgian"),
        ("በቀለ", "NotoSansEthiopic"),
        ("สมชาย", "NotoSansThai"),
        ("ສົມໃຈ", "NotoSansLao"),
    ],
)
def test_a_name_is_drawn_by_a_font_that_has_its_script(name, family):
    assert {run.font for run in runs_of(plain_line(name))} == {f"{family}-Regular"}
    assert {run.font for run in runs_of(plain_line(name), BOLD)} == {f"{family}-Bold"}


def test_a_word_does_not_change_its_face_half_way():
    # B612 has pi but not alpha with tonos.
    assert len(runs_of("Πάππου")) == 1


def test_a_character_that_no_font_has_is_kept_apart_not_dropped():
    assert runs_of("Ane 山") == (Run("B612-Regular", "Ane "), Run(None, "山"))


def test_a_mark_stays_with_its_letter():
    assert [run.text for run in runs_of(plain_line("xe\u0301\u0323y")) if "\u0301" in run.text] != ["\u0301"]
    assert all(unicodedata.category(run.text[0]) != "Mn" for run in runs_of(plain_line("xq\u0323y")))


def test_letter_and_mark_become_one_character_where_there_is_one():
    assert plain_line("A\u030ase") == "Åse"


def test_right_to_left_words_are_drawn_from_the_right():
    assert "".join(run.text for run in runs_of("שרה")) == "הרש"


def test_a_number_among_right_to_left_words_keeps_its_order():
    assert "12" in "".join(run.text for run in runs_of(plain_line("שרה 12")))


def test_line_breaks_and_tabs_become_single_blanks():
    assert plain_line("  Ane\r\n\tØdegård\u2028 ") == "Ane Ødegård"


def test_joiners_and_selectors_that_draw_nothing_are_left_out():
    assert plain_line("👩\u200d🚒\ufe0f") == "👩🚒"


def test_a_code_point_is_told_in_hexadecimal():
    assert "".join(code_point_rows("山")) == "5C71"
    assert "".join(code_point_rows("\U0010fffd")) == "10FFFD"


@pytest.mark.parametrize("family", FAMILIES)
def test_every_font_of_the_chain_draws_something(family):
    assert len(advances_em(f"{family}-Regular")) > 60


@given(ANY_TEXT)
def test_every_visible_character_is_in_one_run(text):
    line = plain_line(text)
    drawn = "".join(run.text for run in runs_of(line))
    # Brackets in right-to-left text are mirrored, so characters are counted, not compared. The control
    # characters of the Unicode bidirectional algorithm are gone already.
    assert len(drawn) == len(line)


@given(ANY_TEXT)
def test_a_width_is_the_sum_of_what_the_fonts_say(text):
    line = plain_line(text)
    expected = sum(
        advances_em(run.font)[ord(character)]
        if run.font
        else len(code_point_rows(character)[0]) * 0.325 + 0.32
        for run in runs_of(line, REGULAR)
        for character in run.text
    )
    assert width_em(line) == pytest.approx(expected, rel=1e-9)
