"""Names typed on our own keys: capitals come by themselves, accents by one key."""

from functools import reduce

import pytest

from floorapp.typed_text import KEY_ACCENT, KEY_BACK, KEY_CASE, LONGEST, typed


def name(*keys: str) -> str:
    return reduce(typed, keys, "")


def test_each_word_of_a_name_begins_with_a_capital() -> None:
    assert name(*"ANN-LEE O'NEIL") == "Ann-Lee O'Neil"


def test_the_case_key_changes_the_last_letter() -> None:
    assert name(*"MC", KEY_CASE, *"KAY") == "MCkay"
    assert name(*"D", KEY_CASE, "'", *"A") == "d'A"


@pytest.mark.parametrize(
    ("letter", "times", "made"), [("O", 1, "Ó"), ("O", 6, "Ø"), ("A", 11, "A"), ("B", 3, "B")]
)
def test_the_accent_key_goes_round_the_letters_that_look_alike(letter: str, times: int, made: str) -> None:
    assert name(letter, *[KEY_ACCENT] * times) == made


def test_a_letter_without_a_capital_of_its_own_stays_small() -> None:
    assert name("S", *[KEY_ACCENT] * 5) == "ß"


def test_keys_on_nothing_do_nothing() -> None:
    assert name(KEY_BACK, KEY_CASE, KEY_ACCENT, " ") == ""


def test_blanks_stand_single_and_a_name_ends_somewhere() -> None:
    assert name(*"A  B") == "A B"
    assert len(name(*"A" * (LONGEST + 5))) == LONGEST


def test_what_is_looked_for_is_typed_as_it_is() -> None:
    assert typed("AN", "N", is_name=False) == "ANN"
