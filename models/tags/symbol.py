"""The QR symbol of a tag code: version 1, error correction level Q, as a grid of dark and light modules."""

from qrcode import QRCode
from qrcode.constants import ERROR_CORRECT_Q
from qrcode.util import MODE_ALPHA_NUM, QRData

VERSION = 1
MODULES = 21  # a side of a version 1 symbol (ISO/IEC 18004: 17 + 4 x version)
QUIET_ZONE_MODULES = 4  # light on every side, as ISO/IEC 18004 asks
FULL_MODULES = MODULES + 2 * QUIET_ZONE_MODULES
CAPACITY = 16  # alphanumeric characters at version 1, level Q (ISO/IEC 18004, table of capacities)

Matrix = tuple[tuple[bool, ...], ...]


def symbol_of(code: str) -> Matrix:
    """The modules of the code's symbol, row by row without the quiet zone; true is dark.

    Of the eight masks the library takes the one to which it gives the lowest penalty. It counts before the
    format modules are drawn, so that it can differ from other encoders' choice; readers take any mask.

    Raises:
        ValueError: longer than 16 characters, or a character that the alphanumeric mode lacks.
    """
    if len(code) > CAPACITY:
        raise ValueError(f"{code!r} has more than the {CAPACITY} characters of a version {VERSION} symbol")
    symbol = QRCode(version=VERSION, error_correction=ERROR_CORRECT_Q, border=0)
    symbol.add_data(QRData(code, mode=MODE_ALPHA_NUM))
    symbol.make(fit=False)
    return tuple(tuple(bool(module) for module in row) for row in symbol.modules)
