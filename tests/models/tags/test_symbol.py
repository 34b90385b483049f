import pytest
import zxingcpp
from PIL import Image

from models.tags.symbol import MODULES, symbol_of

DOTS = 4


def picture(matrix) -> Image.Image:
    page = Image.new("L", ((MODULES + 8) * DOTS,) * 2, 255)
    for y, row in enumerate(matrix):
        for x, dark in enumerate(row):
            if dark:
                page.paste(0, ((x + 4) * DOTS, (y + 4) * DOTS, (x + 5) * DOTS, (y + 5) * DOTS))
    return page


def test_a_symbol_is_read_back_as_its_code():
    (found,) = zxingcpp.read_barcodes(picture(symbol_of("K7KM4EQ7")))
    assert (found.text, found.format) == ("K7KM4EQ7", zxingcpp.BarcodeFormat.QRCode)


def test_a_symbol_is_a_square_of_21_modules():
    assert [len(row) for row in symbol_of("K7KM4EQ7")] == [MODULES] * MODULES


def test_a_code_too_long_for_a_version_1_symbol_is_refused():
    with pytest.raises(ValueError, match="more than the 16 characters"):
        symbol_of("K" * 17)


def test_small_letters_are_refused_as_the_alphanumeric_mode_lacks_them():
    with pytest.raises(ValueError, match="can not be represented"):
        symbol_of("k7q2")
