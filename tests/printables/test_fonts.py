import pytest

from printables.fonts import FAMILIES, FOLDER, MONOSPACED, WEIGHTS, font_path


@pytest.mark.parametrize("family", [*FAMILIES, MONOSPACED])
@pytest.mark.parametrize("weight", WEIGHTS)
def test_every_family_is_shipped_in_both_weights(family, weight):
    assert font_path(f"{family}-{weight}").is_file()


def test_a_font_that_is_not_shipped_is_refused():
    with pytest.raises(ValueError, match="none of the fonts shipped"):
        font_path("B612-Black")


def test_fonts_are_small_enough_to_ship_and_every_one_is_licensed():
    files = list(FOLDER.glob("*.ttf"))
    assert max(file.stat().st_size for file in files) < 700_000
    assert sum(file.stat().st_size for file in files) < 4_000_000
    for licence in ("LICENCE-B612.txt", "LICENCE-Noto.txt"):
        assert "SIL OPEN FONT LICENSE Version 1.1" in (FOLDER / licence).read_text(encoding="utf-8")
