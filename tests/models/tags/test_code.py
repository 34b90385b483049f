from random import Random

import pytest

from models.errors import OperatorError
from models.tags.code import (
    ALPHABET,
    CODE_LENGTH,
    NotATagError,
    OtherShopError,
    WrongCheckCharacterError,
    check_character,
    new_code,
    new_shop_code,
    read_code,
    spoken,
)

SHOP = "K7"


@pytest.fixture
def code() -> str:
    return new_code(SHOP, Random(3))


def test_a_code_begins_with_its_shop_and_ends_with_its_check_character(code):
    assert (len(code), code[:2], code[-1]) == (CODE_LENGTH, SHOP, check_character(code[:-1]))


def test_no_code_has_a_character_that_is_taken_for_another():
    random = Random(1)
    drawn = {character for _ in range(2000) for character in new_code(new_shop_code(random), random)}
    assert drawn == set(ALPHABET)
    assert not drawn & set("0O1IL2Z5S8BGU")


def test_the_same_draw_gives_the_same_code():
    assert new_code(SHOP, Random(9)) == new_code(SHOP, Random(9))


@pytest.mark.parametrize("shop_code", ["", "K", "K77", "K0", "k7"])
def test_a_shop_code_that_is_none_makes_no_tag_codes(shop_code):
    with pytest.raises(ValueError, match="no shop code"):
        new_code(shop_code, Random(1))


@pytest.mark.parametrize(
    "typed",
    ["{0}", " {0}\r\n", "{1}", "{2}", "{3}"],
    ids=["scanned", "with Enter", "small letters", "as spoken", "with dashes"],
)
def test_a_code_is_read_however_it_was_typed(code, typed):
    forms = (code, code.lower(), spoken(code), f"{code[:3]}–{code[3:6]}-{code[6:]}")
    assert read_code(typed.format(*forms), SHOP) == code


def test_a_mistyped_character_is_told_as_such(code):
    wrong = code[:4] + next(c for c in ALPHABET if c != code[4]) + code[5:]
    with pytest.raises(WrongCheckCharacterError, match="has a wrong character in it; scan the tag again"):
        read_code(wrong, SHOP)


def test_a_tag_of_another_shop_is_told_as_such():
    with pytest.raises(OtherShopError, match="begins with X3, ours with K7"):
        read_code(new_code("X3", Random(1)), SHOP)


def test_a_character_that_no_code_has_is_named(code):
    with pytest.raises(NotATagError, match="“O” is in no tag code"):
        read_code(code[:4] + "o" + code[5:], SHOP)


@pytest.mark.parametrize(("typed", "count"), [("", 0), (" - ", 0), ("K7QA", 4), ("K7KM4EQ7K", 9)])
def test_a_code_of_another_length_is_told_its_length(typed, count):
    with pytest.raises(NotATagError, match=f"8 characters, here are {count}"):
        read_code(typed, SHOP)


@pytest.mark.parametrize("typed", ["\u0000", "ß", "ﬁ", "山田", "https://example.org/K7Q2V5HN", "٣٤٦٧"])
def test_whatever_is_scanned_is_answered_with_an_operators_line(typed):
    with pytest.raises(OperatorError) as refused:
        read_code(typed, SHOP)
    assert "\n" not in str(refused.value)
