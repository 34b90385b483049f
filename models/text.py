"""Names in a row, as a sentence has them."""

from collections.abc import Iterable


def in_a_row(names: Iterable[str]) -> str:
    """Each once; with semicolons where one has a comma of its own.

    >>> in_a_row(["anchor", "wave", "anchor", "sun"])
    'anchor, wave and sun'
    """
    *others, last = dict.fromkeys(names)
    between = "; " if any("," in name for name in (*others, last)) else ", "
    return f"{between.join(others)} and {last}" if others else last
