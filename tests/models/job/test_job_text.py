"""Job files whose text would cost the parser all memory, or that only look so."""

import time

import pytest

from models.job.fault_list import UnreadableError
from models.job.job_text import read_tables


@pytest.mark.parametrize(
    "text",
    [
        ".".join(["a"] * 100_000) + " = 1",
        "[" + ".".join(["a"] * 100_000) + "]",
        "[[" + " . ".join(['"a \\" b"'] * 100_000) + "]]",
        "x = { " + ".".join(["'a b'"] * 100_000) + " = 1 }",
    ],
)
def test_a_key_of_very_many_tables_is_refused_at_once(text, tmp_path):
    path = tmp_path / "vests.toml"
    path.write_text(text)
    started = time.monotonic()
    with pytest.raises(UnreadableError, match="nested too deeply"):
        read_tables(path)
    assert time.monotonic() - started < 5


def test_many_points_in_values_and_comments_are_no_nesting(tmp_path):
    path = tmp_path / "vests.toml"
    path.write_text('# a.b.c.d.e.f.g.h.i.j\nx = ["a.b.c.d.e.f.g.h.i.j", 1.5]\na.b.c.d = 2\n')
    assert read_tables(path) == {"x": ["a.b.c.d.e.f.g.h.i.j", 1.5], "a": {"b": {"c": {"d": 2}}}}


def test_a_number_of_thousands_of_digits_is_told_in_words(tmp_path):
    path = tmp_path / "vests.toml"
    path.write_text("format = " + "9" * 5_000)
    with pytest.raises(UnreadableError, match="thousands of digits"):
        read_tables(path)
