"""A roster: the garments of a batch as a spreadsheet saves them, one row a wearer.

Columns size, name, number and quantity, in any order and any case; only size has to be there. Further columns
are left out and named. Comma, semicolon or tab; UTF-8, with or without its mark, or Windows-1252. A row of
quantity 3 is three garments.
"""

import csv
from collections.abc import Iterator
from difflib import get_close_matches
from io import StringIO

from models.job.fault_list import FaultList, UnreadableError
from models.job.files import WHOLE_FILE
from models.job.job import GarmentOrder
from models.plain_text import composed, is_one_line

COLUMNS = ("size", "name", "number", "quantity")
DELIMITERS = ",;\t"
MAX_GARMENTS = 5_000
MAX_COLUMNS = 100
LONGEST = {"size": 40, "name": 200, "number": 20}

Row = dict[str, str]


def garments_in(content: bytes, faults: FaultList) -> tuple[GarmentOrder, ...]:
    """The garments in file order, numbered from 1. Faults and columns left out are noted."""
    orders: list[GarmentOrder] = []
    try:
        rows = list(_rows(_decoded(content), faults))
        for line, row in rows:
            quantity = _quantity(row, f"line {line}", faults)
            _must_not_pass_the_limit(len(orders) + quantity, f"line {line}")
            if _is_sound(row, f"line {line}", faults):
                orders += _orders(row, len(orders) + 1, quantity)
    except UnreadableError as error:
        faults.note(error.place, error.wrong, error.mend)
    else:
        if not rows:
            faults.note(WHOLE_FILE, "names no garment", "write a row for each wearer below the header")
    return tuple(orders)


def _must_not_pass_the_limit(garments: int, place: str) -> None:
    if garments > MAX_GARMENTS:
        raise UnreadableError(f"makes more than {MAX_GARMENTS:,} garments", "split the batch", place)


def _orders(row: Row, first: int, quantity: int) -> list[GarmentOrder]:
    return [
        GarmentOrder(n, row["size"], row.get("name", ""), row.get("number", ""))
        for n in range(first, first + quantity)
    ]


def _decoded(content: bytes) -> str:
    """Windows-1252 has a letter for nearly every byte: believed only where nothing looks like UTF-8."""
    if b"\0" in content:
        raise UnreadableError("is not a text file", "save it as CSV in UTF-8", WHOLE_FILE)
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
    if not content.decode(errors="ignore").isascii():
        raise UnreadableError("is UTF-8 but for some letters", "save the file as UTF-8", f"line {line}")
    try:
        return content.decode("cp1252")
    except UnicodeDecodeError:
        raise UnreadableError("is neither UTF-8 nor Windows-1252", "save as UTF-8", f"line {line}") from None


def _rows(text: str, faults: FaultList) -> Iterator[tuple[int, Row]]:
    """Each row below the header with the line on which it begins, its cells by column."""
    records = _records(text)
    line, header = next(records, (1, []))
    place, columns = f"line {line}", [cell.casefold() for cell in header]
    _judge_header(columns, place, faults)
    _name_what_is_left_out(header, columns, place, faults)
    nameless, filled = {n for n, column in enumerate(columns) if not column}, set[int]()
    for count, (line, cells) in enumerate(records, start=1):
        _must_not_pass_the_limit(count, f"line {line}")
        if any(cells[len(columns) :]):
            faults.note(f"line {line}", "has more cells than the header", "put text with a comma into quotes")
        filled |= {n for n in nameless if any(cells[n : n + 1])}
        yield line, dict(zip(columns, cells, strict=False))
    if filled:
        numbers = ", ".join(str(n + 1) for n in sorted(filled))
        faults.remark(place, f"columns without a name left out: {numbers}")


def _records(text: str) -> Iterator[tuple[int, list[str]]]:
    """Records that are not blank; a line break within quotes becomes a space."""
    reader = csv.reader(StringIO(text, newline=""), delimiter=_delimiter(text), strict=True)
    begins = 1
    try:
        for cells in reader:
            words = [" ".join(composed(cell).split()) for cell in cells]
            if any(words):
                yield begins, words
            begins = reader.line_num + 1
    except csv.Error as error:
        raise UnreadableError(f"is no CSV ({error})", "look at its quotes", f"line {begins}") from None


def _delimiter(text: str) -> str:
    """The one that stands most often in the header."""
    header = next((line for line in StringIO(text, newline="") if line.strip()), "")
    return max(DELIMITERS, key=header.count)


def _judge_header(columns: list[str], place: str, faults: FaultList) -> None:
    if "size" not in columns:
        raise UnreadableError("has no column size", "name the columns in the first line", place)
    if len(columns) > MAX_COLUMNS:
        raise UnreadableError(f"has more than {MAX_COLUMNS} columns", "delete the others", place)
    for column in COLUMNS:
        if columns.count(column) > 1:
            faults.note(place, f'has the column "{column}" twice', "keep one of them")


def _name_what_is_left_out(header: list[str], columns: list[str], place: str, faults: FaultList) -> None:
    """A column whose name is near one that is missing may be a slip: the person is asked."""
    missing = [column for column in COLUMNS if column not in columns]
    left_out = []
    for written, column in zip(header, columns, strict=True):
        if column and column not in COLUMNS:
            near = get_close_matches(column, missing, n=1)
            left_out.append(f'{written} (did you mean "{near[0]}"?)' if near else written)
    if left_out:
        faults.remark(place, f"columns left out: {', '.join(left_out)}")


def _quantity(row: Row, place: str, faults: FaultList) -> int:
    """1 where the row has none, or a wrong one, which is noted."""
    written = row.get("quantity") or "1"
    if written.isascii() and written.isdecimal() and len(written) < 10 and int(written) > 0:
        return int(written)
    faults.note(place, f'the quantity "{written}" is no count', "write a whole number from 1 on")
    return 1


def _is_sound(row: Row, place: str, faults: FaultList) -> bool:
    if not row.get("size"):
        faults.note(place, "has no size", "write the garment's size")
        return False
    wrong = [key for key, longest in LONGEST.items() if not _is_short_line(row.get(key, ""), longest)]
    for key in wrong:
        faults.note(place, f"the {key} is too long, or has signs that cannot be printed", "retype it")
    return not wrong


def _is_short_line(text: str, longest: int) -> bool:
    return len(text) <= longest and is_one_line(text)
