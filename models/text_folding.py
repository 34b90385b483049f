"""Text made alike for finding: case, accents and joined letters make no difference."""

import unicodedata

from models.plain_text import JOINERS

PLAIN = str.maketrans(
    {"ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "æ": "ae", "œ": "oe", "ı": "i", "ħ": "h", "ŧ": "t"}
)
"""Letters that Unicode does not take apart into a plain letter and an accent."""


def folded(text: str) -> str:
    """Return the text in lower case, without accents and joiners, its blanks single.

    >>> folded("  Þórdís ÅNGSTRØM-Weiß ")
    'thordis angstrom-weiss'
    """
    apart = unicodedata.normalize("NFKD", text.casefold())
    plain = "".join(sign for sign in apart if not unicodedata.combining(sign) and sign not in JOINERS)
    return " ".join(plain.translate(PLAIN).split())
