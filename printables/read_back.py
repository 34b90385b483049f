"""Every symbol is read by a second reader from the finished picture before anything is written."""

import zxingcpp
from PIL.Image import Image

from models.tags.code import spoken
from printables.errors import SymbolNotReadBackError

QR_CODE = zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode)


def must_read_back(picture: Image, code: str) -> None:
    """The picture of one tag shows exactly one symbol, and that says `code`.

    Raises:
        SymbolNotReadBackError: it shows none, several or another one.
    """
    found = zxingcpp.read_barcodes(picture, formats=QR_CODE, try_rotate=False)
    texts = [symbol.text for symbol in found]
    if texts != [code]:
        seen = " and ".join(texts) or "nothing"
        raise SymbolNotReadBackError(
            f"the symbol of tag {spoken(code)} reads back as {seen}; nothing was written; "
            "try another label size or resolution, and tell whoever looks after this program"
        )
