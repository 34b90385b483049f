import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.geometry import Box
from printables.fitting import LEADING, Align, TextBox, fit, letter
from printables.lettering import BOLD, width_em

BOX = TextBox(Box(10, 20, 30, 8), em_mm=6, least_em_mm=2, chain=BOLD)


def test_a_short_text_has_the_size_it_should_have():
    assert (fit("XL", BOX).lines, fit("XL", BOX).em_mm) == (("XL",), 6)


def test_a_longer_text_is_made_smaller_before_anything_else():
    fitted = fit("Ane Ødegård Lunde", BOX)
    assert "".join(fitted.lines).replace(" ", "") == "AneØdegårdLunde"
    assert 2 < fitted.em_mm < 6


def test_a_text_too_long_for_a_line_is_broken_at_a_blank():
    assert fit("Maria del Carmen Fernández de la Vega", BOX).lines == (
        "Maria del Carmen",
        "Fernández de la Vega",
    )


@pytest.mark.parametrize("text", ["x" * 200, "Ane " * 60, "山" * 50])
def test_a_text_that_does_not_fit_at_the_least_size_is_shortened(text):
    fitted = fit(text, BOX)
    assert fitted.em_mm == 2
    assert fitted.lines[-1].endswith("…")


def test_a_text_that_fits_is_never_shortened():
    assert not fit("Maria del Carmen Fernández de la Vega", BOX).lines[-1].endswith("…")


def test_an_empty_text_draws_nothing():
    assert (letter("", BOX).runs, letter("", BOX).frames) == ((), ())


@pytest.mark.parametrize(("align", "x_mm"), [(Align.LEFT, 10), (Align.CENTRE, 25), (Align.RIGHT, 40)])
def test_a_line_stands_where_it_is_aligned_to(align, x_mm):
    (run,) = letter("XL", TextBox(BOX.box, 6, 2, BOLD, align)).runs
    width_mm = width_em("XL", BOLD) * 6
    share = {Align.LEFT: 0, Align.CENTRE: 0.5, Align.RIGHT: 1}[align]
    assert run.x_mm == pytest.approx(x_mm - share * width_mm, abs=1e-9)


def test_a_character_without_a_font_is_framed():
    lettering = letter("山", BOX)
    assert [run.text for run in lettering.runs] == ["5C", "71"]
    (frame,) = lettering.frames
    assert BOX.box.holds(frame)
    assert all(
        frame.x < run.x_mm < frame.right and frame.y < run.baseline_mm < frame.bottom
        for run in lettering.runs
    )


@given(st.text(st.characters(), max_size=250), st.floats(8, 80), st.floats(2.5, 12), st.sampled_from(Align))
def test_whatever_is_written_stays_inside_its_box(text, width_mm, height_mm, align):
    text_box = TextBox(Box(5, 5, width_mm, height_mm), height_mm / LEADING, 2.0, BOLD, align)
    fitted = fit(text, text_box)
    assert len(fitted.lines) * fitted.em_mm * LEADING <= height_mm + 1e-6
    assert all(width_em(line, BOLD) * fitted.em_mm <= width_mm + 1e-6 for line in fitted.lines)
