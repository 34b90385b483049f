"""The text of a job file as plain tables and lists: TOML or JSON, told by the name's ending."""

import json
import re
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

from models.job.fault_list import UnreadableError
from models.job.files import WHOLE_FILE, read_bytes

Tables = dict[str, Any]

KEY = r"""(?:[\w-]+|"(?:[^"\\\n]|\\.)*"|'[^'\n]*')"""
LONG_PATH = re.compile(rf"(?:^|[\[{{,])[ \t]*(?:{KEY}[ \t]*\.[ \t]*){{8}}", re.MULTILINE)
"""A key of eight tables and more; the parser's memory grows with the square of their number."""


def read_tables(path: Path) -> Tables:
    """The job file's tables. Raises UnreadableError with line and column where its syntax is broken."""
    parse = PARSERS.get(path.suffix.lower())
    content = read_bytes(path)
    if parse is None:
        raise UnreadableError("is neither .toml nor .json", "name it after its form", WHOLE_FILE)
    try:
        tables = parse(_decoded(content))
    except RecursionError:
        raise UnreadableError("is nested too deeply", "write it as format 1 asks", WHOLE_FILE) from None
    if not isinstance(tables, dict):
        raise UnreadableError("is not a table of keys", "begin it with { and end it with }", WHOLE_FILE)
    return tables


def _decoded(content: bytes) -> str:
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        raise UnreadableError("is not UTF-8 text", "save it as UTF-8", f"line {line}") from None


def _parse_toml(text: str) -> Any:
    if LONG_PATH.search(text):
        raise RecursionError
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        place, wrong = _place_in(str(error), last_line=text.count("\n") + 1)
        raise UnreadableError(f"is no TOML: {wrong}", "mend the line", place) from None
    except ValueError:
        raise _too_many_digits() from None


def _parse_json(text: str) -> Any:
    try:
        tables = json.loads(text, object_pairs_hook=_without_twins)
        json.dumps(tables, ensure_ascii=False).encode()  # fails for half of a surrogate pair
    except json.JSONDecodeError as error:
        place = f"line {error.lineno}, column {error.colno}"
        raise UnreadableError(f"is no JSON: {error.msg}", "mend the line", place) from None
    except UnicodeEncodeError:
        raise UnreadableError("holds half a character pair", "write the letter itself", WHOLE_FILE) from None
    except ValueError:
        raise _too_many_digits() from None
    return tables


def _too_many_digits() -> UnreadableError:
    """Python refuses whole numbers of more than 4,300 digits."""
    return UnreadableError("holds a number of thousands of digits", "write the one meant", WHOLE_FILE)


def _without_twins(pairs: list[tuple[str, Any]]) -> Tables:
    """JSON would let the last of two equal keys win without a word."""
    table: Tables = {}
    for key, value in pairs:
        if key in table:
            raise UnreadableError(
                f'the key "{key}" stands twice in one table', "keep one of them", WHOLE_FILE
            )
        table[key] = value
    return table


def _place_in(message: str, last_line: int) -> tuple[str, str]:
    """The place, which the parser tells in brackets at the end of its message, and the message without it."""
    found = re.search(r" \(at (line \d+, column \d+|end of document)\)$", message)
    if found is None:
        return WHOLE_FILE, message
    place = f"line {last_line}" if found[1] == "end of document" else found[1]
    return place, message[: found.start()]


PARSERS: dict[str, Callable[[str], Any]] = {".toml": _parse_toml, ".json": _parse_json}
