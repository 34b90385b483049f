"""Names of any script are let pass as they are written, and nothing invisible that is not part of one."""

import pytest

from models.plain_text import composed, is_one_line

ZWNJ, ZWJ = "\u200c", "\u200d"

NAMES = [
    "Ane Sørlund",
    f"علی{ZWNJ}رضا",  # Persian: the two parts of the name do not join
    f"می{ZWNJ}نا",
    f"क्{ZWJ}षिति",  # Devanagari: a half form in place of a conjunct
    f"क्{ZWNJ}षिति",
    f"র{ZWJ}\u09cd\u09afাব",  # Bengali: the joiner stands before the virama
    f"ශ්{ZWJ}රී",  # Sinhala
    f"അവൻ{ZWNJ}തി",
    f"👩{ZWJ}🚒",
    f"👩\U0001f3fd{ZWJ}🚒",
    f"❤\ufe0f{ZWJ}🔥",
    f"🏳\ufe0f{ZWJ}🌈",
]

NO_NAMES = [
    f"An{ZWNJ}n",
    f"An{ZWJ}n",
    f"{ZWNJ}علی",
    f"علی{ZWNJ}",
    f"علی{ZWNJ}{ZWNJ}رضا",
    f"علی {ZWNJ}رضا",
    f"👩{ZWNJ}🚒",
    f"👩{ZWJ}",
    f"👩{ZWJ}a",
    f"{ZWJ}",
    f"7{ZWJ}7",
]


@pytest.mark.parametrize("name", NAMES)
def test_joiners_stand_in_names_whose_script_uses_them(name):
    assert is_one_line(name)


@pytest.mark.parametrize("name", NO_NAMES)
def test_a_joiner_that_joins_nothing_is_refused(name):
    assert not is_one_line(name)


@pytest.mark.parametrize(
    "sign",
    [
        "\u202e",
        "\u202d",
        "\u2066",
        "\u2067",
        "\u200e",
        "\u200b",
        "\u2060",
        "\ufeff",
        "\u00ad",
        "\x1b",
        "\n",
        "\udcff",
    ],
)
def test_what_turns_or_hides_the_letters_after_it_is_refused(sign):
    assert not is_one_line(f"علی{sign}رضا")
    assert not is_one_line(f"Ann{sign}e")


def test_a_letter_and_its_mark_are_stored_as_one():
    assert composed("Nu\u0301n\u0303ez") == "Núñez"
