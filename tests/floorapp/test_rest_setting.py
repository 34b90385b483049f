"""Where a station rests its garments, read from its settings."""

import pytest

from floorapp.rest_setting import BadRestSettingError, rest_place
from models.recipe.places import Place


@pytest.mark.parametrize(("word", "place"), [("", Place.TABLE), ("table", Place.TABLE), ("hung", Place.HUNG)])
def test_a_word_stands_for_a_place_and_none_for_the_table(word: str, place: Place) -> None:
    assert rest_place(word) == place


def test_the_press_is_refused_because_the_next_garment_needs_it() -> None:
    with pytest.raises(BadRestSettingError, match="on the press keeps the next one waiting; write table or"):
        rest_place("press")


def test_another_word_is_refused_with_those_there_are() -> None:
    with pytest.raises(
        BadRestSettingError, match=r'^FLOORAPP_RESTS: no garment can rest at "Hung"; write table'
    ):
        rest_place("Hung")
