"""Names are found however they are typed."""

import pytest

from models.text_folding import folded


@pytest.mark.parametrize(
    ("typed", "written"),
    [("nunez", "Núñez"), ("NÚÑEZ", "Nu\u0301n\u0303ez"), ("علیرضا", "علی\u200cرضا"), ("👩🚒", "👩\u200d🚒")],
)
def test_case_accents_and_joiners_make_no_difference(typed: str, written: str) -> None:
    assert folded(typed) == folded(written)
