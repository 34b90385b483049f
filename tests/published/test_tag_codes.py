"""Check characters against ISO/IEC 7064 MOD 37,36; the reference implementation is python-stdnum.

Sources: python-stdnum, module stdnum.iso7064.mod_37_36 (its documented example is A12425GABC1234002 -> M);
error detection: ISO/IEC 7064, properties of hybrid systems, here counted out whole.
"""

from itertools import product
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stdnum.iso7064 import mod_37_36

from models.tags.code import (
    ALPHABET,
    CHECK_ALPHABET,
    WrongCheckCharacterError,
    check_character,
    new_code,
    read_code,
)

SHOP = "K7"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("A12425GABC1234002", "M"),  # documented example of python-stdnum
        ("HP000001", "E"),  # these five computed with python-stdnum
        ("7K3QX9", "B"),
        ("0", "2"),
        ("Z", "4"),
        ("ABCDEFGHJKMNPQRSTVWXYZ0123456789", "A"),
    ],
)
def test_the_check_character_is_the_one_published(text, expected):
    assert check_character(text) == expected


@given(st.text(CHECK_ALPHABET, min_size=1, max_size=30))
def test_the_check_character_is_the_one_of_the_reference(text):
    assert check_character(text) == mod_37_36.calc_check_digit(text)


def test_every_new_code_is_valid_to_the_reference():
    random = Random(7064)
    assert all(mod_37_36.is_valid(new_code(SHOP, random)) for _ in range(500))


@pytest.mark.parametrize("seed", range(20))
def test_every_single_wrong_character_is_caught(seed):
    code = new_code(SHOP, Random(seed))
    spoiled = [
        code[:place] + other + code[place + 1 :]
        for place, other in product(range(len(code)), ALPHABET)
        if other != code[place]
    ]
    assert len(spoiled) == 8 * 22
    for wrong in spoiled:
        with pytest.raises(WrongCheckCharacterError):
            read_code(wrong, SHOP)


def test_all_but_one_in_630_swaps_of_neighbours_are_caught():
    # A swap goes unseen where both orders leave the recursion in the same state. The check character of a
    # one-character prefix differs for each of the 36 states, so prefixes reach every state.
    missed = [
        (prefix, left, right)
        for prefix, left, right in product(CHECK_ALPHABET, repeat=3)
        if left != right and check_character(prefix + left + right) == check_character(prefix + right + left)
    ]
    assert len({check_character(prefix) for prefix in CHECK_ALPHABET}) == 36
    assert (len(missed), 36 * 36 * 35) == (72, 45360)
