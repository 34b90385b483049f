"""A name from a roster stays a name in every spreadsheet, and can be read back as it was."""

import csv
from io import StringIO

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.quality.csv_cells import SIGNS, text_cell, written_in
from models.quality.review_export import review_to_csv
from tests.models.quality.test_review import Row, review

FORMULAS = [
    "=1+1",
    "+1",
    "-1",
    "@SUM(A1)",
    "＝1+1",
    "＋1",
    "－1",
    "＠A1",
    "Ann;=1+1;",
    "Ann; =1+1",
    "Ann\t=1+1",
    "Ann,=1+1",
    "Ann\n=1+1",
    " \u00a0=1+1",
    "\u200b=1+1",
    'Ann;"=1+1"',
    '"=1+1',
]
HARMLESS = ["Ann-Marie", "Ann", "7-8", "ann@crew", "A=B", "O'Neill", "", "1+1"]


def spreadsheet_cells(text: str, separator: str) -> list[str]:
    """What a spreadsheet that expects this separator puts into its cells, blanks trimmed."""
    rows = csv.reader(StringIO(text, newline=""), delimiter=separator)
    return [cell.strip('"\u200b\ufeff ' + "\u00a0\t\r\n") for row in rows for cell in row]


@pytest.mark.parametrize("separator", [",", ";", "\t"])
@pytest.mark.parametrize("name", FORMULAS)
def test_no_name_is_a_formula_for_a_reader_of_commas_semicolons_or_tabs(name, separator):
    text = review_to_csv(review((Row(1, wearer=name), ())))
    begin_so = [cell for cell in spreadsheet_cells(text, separator) if cell[:1] in set(SIGNS) - {"\\"}]
    assert begin_so == [""] * len(begin_so)


@pytest.mark.parametrize("name", HARMLESS)
def test_a_name_that_begins_no_formula_is_left_as_it_is(name):
    assert text_cell(name) == name


def test_a_wearer_whose_name_begins_with_a_dash_stays_readable():
    rows = list(csv.reader(StringIO(review_to_csv(review((Row(1, wearer="-Ann"), ()))), newline="")))
    assert rows[1][3] == "'-Ann"


@given(st.text(st.sampled_from("=+-@＝;,\t\n'\" aé|"), max_size=12) | st.text(max_size=20))
def test_every_name_can_be_read_back_as_it_was(name):
    assert written_in(text_cell(name)) == name
