import unicodedata

import pytest

from printables.arabic_forms import join_arabic


def forms(text: str) -> list[str]:
    """The form that each character of the joined text is named for."""
    return [
        unicodedata.decomposition(character).partition(">")[0].strip("<") for character in join_arabic(text)
    ]


def test_a_letter_takes_the_form_of_its_place_in_the_word():
    assert forms("محمد") == ["initial", "medial", "medial", "final"]


def test_a_letter_that_does_not_join_onwards_parts_the_word():
    assert forms("دار") == ["isolated", "isolated", "isolated"]
    assert forms("نور") == ["initial", "final", "isolated"]


def test_lam_and_alef_make_one_letter():
    assert [ord(character) for character in join_arabic("سلام")] == [0xFEB3, 0xFEFC, 0xFEE1]


def test_a_mark_does_not_break_the_join():
    assert forms("مُحَمد")[0] == "initial"
    assert len(join_arabic("مُحَمد")) == len("مُحَمد")


def test_a_persian_letter_is_joined_too():
    assert forms("پگاه") == ["initial", "medial", "final", "isolated"]


@pytest.mark.parametrize("text", ["Ane", "שרה", "Ødegård", "", "12"])
def test_other_scripts_are_left_as_they_are(text):
    assert join_arabic(text) == text
