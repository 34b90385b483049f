"""Path data is whole or it is refused, wherever it was cut short."""

import pytest

from models.job.fault_list import FaultList, UnreadableError
from models.job.path_grammar import ARGUMENTS, is_whole_path
from models.job.svg_area import area_in
from models.job.svg_safety import must_be_plain

# each command once and twice in a row, absolute and relative
COMMANDS = [
    f"M0 0 L9 0 9 9 {letter}{numbers} {numbers} Z"
    for small, numbers in {
        "l": "1 2",
        "t": "1,2",
        "h": "3",
        "v": "4",
        "c": "1-2 3.5e-1.5 4 4",
        "s": "1 2 3 4",
        "q": "1 2 3 4",
        "a": "5 5 30 01 9 9",
        "m": "1 2",
    }.items()
    for letter in (small, small.upper())
]
WHOLE = [
    *COMMANDS,
    "",
    " ",
    "M0 0",
    "m10 10 1e1 0 0 2E+1z",  # what follows a move without a letter is a line
    "M0,0h9v9zm1 1h2v2z",
    "M0 0a5 5 0 1110 0a5 5 0 11-10 0z",  # flags without blanks
    "M.5.5-1-1 2.-3.z",
    "M0 0\n\tL1 1\r\n2 2 Z z",
]
BROKEN = [
    "H", "L 5 5", "z", "0 0 5 5", "M", "M0", "M0 0 0", "M0 0 H", "M0 0 L", "M0 0 L5", "M0 0 L5 5 5",
    "M0 0 C1 2 3 4 5", "M0 0 C1 2 3 4 5 6 7", "M0 0 Q1 2 3", "M0 0 A5 5 0 2 1 9 9", "M0 0 A5 5 0 1 1 9",
    "M0 0 A5 5 0 1.0 1 9 9", "M0 0 z5", "M0 0 L1e 5", "M0 0 L1 .", "M0 0 L1 -", "M0 0 L+-1 2", "M0 0 X1",
    "M0 0 e5", "M0 0 L1٣ 2", "M0 0 Lnan 1", "M0 0 L 1 2 3 4 5 z",
]  # fmt: skip


def has_all_its_numbers(written: str) -> bool:
    """Counted another way, for paths without exponents and joined flags."""
    parts = written.replace("M", "|M").replace("L", "|L").replace("H", "|H").replace("V", "|V").split("|")[1:]
    counts = [(part[0].lower(), len(part[1:].replace(",", " ").split())) for part in parts]
    return all(count and count % ARGUMENTS[letter] == 0 for letter, count in counts)


def read(written: str) -> bool:
    return read_drawing(f'<path d="{written}"/>')


def read_drawing(drawn: str) -> bool:
    """Whether a drawing is read; when it is not, it is refused in our own words."""
    content = f'<svg xmlns="http://www.w3.org/2000/svg">{drawn}</svg>'.encode()
    if not must_be_plain(content, FaultList("art/anchor.svg")):
        return False
    try:
        return area_in(content, 200).area > 0
    except UnreadableError:
        return False


@pytest.mark.parametrize("written", WHOLE)
def test_whole_paths_are_let_pass(written):
    assert is_whole_path(written)


@pytest.mark.parametrize("written", BROKEN)
def test_a_path_with_a_number_too_few_or_too_many_is_refused(written):
    assert not is_whole_path(written)
    assert not read(written)


@pytest.mark.parametrize("whole", [*COMMANDS, *WHOLE])
def test_a_path_cut_short_at_any_place_is_read_or_refused(whole):
    for end in range(len(whole) + 1):
        read(whole[:end])
        read(whole[end:])


def test_only_what_has_all_its_numbers_is_read_of_a_path_cut_short():
    whole = "M0 0 L90 0 90 90 H 80 70 V 60 50"
    for end in range(1, len(whole) + 1):
        assert is_whole_path(whole[:end]) == has_all_its_numbers(whole[:end]), whole[:end]


def test_a_whole_path_of_every_command_is_read():
    assert [written for written in COMMANDS if not read(written) and "crosses" not in _refusal(written)] == []


def _refusal(written: str) -> str:
    content = f'<svg xmlns="http://www.w3.org/2000/svg"><path d="{written}"/></svg>'.encode()
    with pytest.raises(UnreadableError) as refused:
        area_in(content, 200)
    return refused.value.wrong


@pytest.mark.parametrize("whole", ["0,0 30,0 30,10", "0 0 30 0 30 10", "0,0 3e1,0 3.0E+1,-10"])
def test_the_points_of_a_polygon_cut_short_are_read_or_refused(whole):
    for end in range(len(whole) + 1):
        read_drawing(f'<polygon points="{whole[:end]}"/>')
