"""Capacity and size of the tag's symbol against the ISO/IEC 18004 table; the reference encoder is segno."""

import pytest
import segno

from models.tags.code import CODE_LENGTH
from models.tags.symbol import CAPACITY, FULL_MODULES, MODULES, QUIET_ZONE_MODULES, VERSION, symbol_of

# ISO/IEC 18004, number of alphanumeric characters a version 1 symbol holds, by error correction level.
VERSION_1_ALPHANUMERIC = {"L": 25, "M": 20, "Q": 16, "H": 10}


def made_by_the_reference(text: str, level: str = "q", mask: int | None = None) -> segno.QRCode:
    return segno.make(text, version=VERSION, error=level, mask=mask, boost_error=False, micro=False)


def test_our_capacity_is_the_tables():
    assert VERSION_1_ALPHANUMERIC["Q"] == CAPACITY


def test_a_tag_code_fits_with_room_to_spare():
    assert CODE_LENGTH <= CAPACITY


@pytest.mark.parametrize(("level", "capacity"), VERSION_1_ALPHANUMERIC.items())
def test_the_reference_holds_what_the_table_says_and_no_more(level, capacity):
    assert made_by_the_reference("K" * capacity, level).mode == "alphanumeric"
    with pytest.raises(segno.DataOverflowError):
        made_by_the_reference("K" * (capacity + 1), level)


def test_a_symbol_filled_to_capacity_is_made_and_one_more_is_refused():
    assert len(symbol_of("K" * CAPACITY)) == MODULES
    with pytest.raises(ValueError, match="more than the 16"):
        symbol_of("K" * (CAPACITY + 1))


@pytest.mark.parametrize("code", ["K7KM4EQ7", "K7PNPWKR", "K7466JAK", "K7DTR9JK", "K7DF7KPH"])
def test_our_modules_are_the_references_under_one_of_its_eight_masks(code):
    references = [
        tuple(tuple(bool(module) for module in row) for row in made_by_the_reference(code, mask=mask).matrix)
        for mask in range(8)
    ]
    assert symbol_of(code) in references


def test_the_quiet_zone_is_the_standards():
    reference = made_by_the_reference("K7KM4EQ7")
    assert reference.default_border_size == QUIET_ZONE_MODULES == 4
    assert reference.symbol_size() == (FULL_MODULES, FULL_MODULES) == (29, 29)
