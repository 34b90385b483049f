"""Cells of a CSV file that no spreadsheet takes for a formula, whichever separator it expects.

Sources: CWE-1236 (Improper Neutralization of Formula Elements in a CSV File) and OWASP ASVS 5.0, 1.2.10: put
an apostrophe before =, +, - and @. OWASP's page "CSV Injection", from memory: a separator within a cell
begins a new cell, and fullwidth signs count too.
"""

import re

SIGNS = "=+\\-@＝＋－＠﹦﹢﹣﹫"
SEPARATORS = ",;\t\r\n|"
"""A spreadsheet that expects semicolons cuts our cells at each of them, and ignores our quotes."""

_BEGINS = rf"(^|[{SEPARATORS}])([\s\"'\ufeff\u200b-\u200d\u2060]*)"
_FORMULA = re.compile(rf"{_BEGINS}(?=[{SIGNS}])")
_TEXT = re.compile(rf"{_BEGINS}'(?=[{SIGNS}])")


def text_cell(written: str) -> str:
    """Return the cell with an apostrophe before each sign that could begin a formula.

    >>> text_cell("-Ann"), text_cell("Ann;=1+1;"), text_cell("Ann-Marie")
    ("'-Ann", "Ann;'=1+1;", 'Ann-Marie')
    """
    return _FORMULA.sub(r"\1\2'", written)


def written_in(cell: str) -> str:
    """Return what `text_cell` was given: one apostrophe before each such sign is taken away.

    >>> written_in("'-Ann")
    '-Ann'
    """
    return _TEXT.sub(r"\1\2", cell)
