"""Whether path data is whole: every command has its numbers.

Source: SVG 1.1 (Second Edition), 8.3.9, the grammar for path data. Separators are taken as they come; what is
cut short or has a number too many is refused, since half a path would be planned, cut and pressed.
"""

import re
from collections.abc import Iterator

ARGUMENTS = {"m": 2, "l": 2, "t": 2, "h": 1, "v": 1, "c": 6, "s": 4, "q": 4, "a": 7, "z": 0}
FLAGS_OF_AN_ARC = (3, 4)
"""The places of the two flags, which may stand without a blank behind them: "a5 5 0 01 9 9"."""

_BETWEEN = re.compile(r"[\s,]*")
_COMMAND = re.compile(r"[A-Za-z]")
_NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?", re.ASCII)
_FLAG = re.compile(r"[01]")


def is_whole_path(written: str) -> bool:
    """Return whether the text is path data from its first letter to its last; no text at all is.

    >>> is_whole_path("M0 0 H10 v10z"), is_whole_path("M0 0 H"), is_whole_path("M0 0 L5")
    (True, False, False)
    """
    is_first = True
    try:
        for command, count in _commands(written):
            wanted = ARGUMENTS.get(command.lower())
            if wanted is None or (is_first and command not in "Mm"):
                return False
            if count != wanted and (wanted == 0 or count == 0 or count % wanted):
                return False
            is_first = False
    except ValueError:
        return False
    return True


def _commands(written: str) -> Iterator[tuple[str, int]]:
    """Each command with the count of its numbers. Raises ValueError where neither stands."""
    at = _after_blanks(written, 0)
    while at < len(written):
        command = _must_match(_COMMAND, written, at)
        at, count = _after_blanks(written, command.end()), 0
        while at < len(written) and not _COMMAND.match(written, at):
            is_flag = command[0] in "aA" and count % ARGUMENTS["a"] in FLAGS_OF_AN_ARC
            at = _after_blanks(written, _must_match(_FLAG if is_flag else _NUMBER, written, at).end())
            count += 1
        yield command[0], count


def _must_match(pattern: re.Pattern[str], written: str, at: int) -> re.Match[str]:
    found = pattern.match(written, at)
    if found is None:
        raise ValueError(at)
    return found


def _after_blanks(written: str, at: int) -> int:
    found = _BETWEEN.match(written, at)
    return at if found is None else found.end()
