"""Tag codes: two characters for the shop, five drawn at random, one check character.

The alphabet leaves out whatever is taken for something else on a smudged tag or over the noise of a press.
The check character is ISO/IEC 7064 MOD 37,36, which is defined over 0-9 and A-Z; a code whose check
character would fall outside our alphabet is never made.
"""

import unicodedata
from random import Random

from models.errors import OperatorError

ALPHABET = "34679ACDEFHJKMNPQRTVWXY"
CHECK_ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"
SHOP_LENGTH = 2
RANDOM_LENGTH = 5
CODE_LENGTH = SHOP_LENGTH + RANDOM_LENGTH + 1
SPOKEN_GROUP = 4


class NotATagError(OperatorError):
    """What was scanned or typed has the wrong length or a character that no tag code has."""


class WrongCheckCharacterError(OperatorError):
    """The code was misread or mistyped: its check character does not follow from the rest."""


class OtherShopError(OperatorError):
    """A sound code, of a tag that another shop has made."""


def new_shop_code(random: Random) -> str:
    """Two characters that stand first in every tag code of one shop."""
    return _draw(SHOP_LENGTH, random)


def new_code(shop_code: str, random: Random) -> str:
    """A tag code of this shop. The caller makes sure that it is not in use yet.

    Raises:
        ValueError: `shop_code` is not one that `new_shop_code` could have made.
    """
    if len(shop_code) != SHOP_LENGTH or not set(shop_code) <= set(ALPHABET):
        raise ValueError(f"{shop_code!r} is no shop code: two characters of {ALPHABET}")
    while True:
        body = shop_code + _draw(RANDOM_LENGTH, random)
        check = check_character(body)
        if check in ALPHABET:
            return body + check


def check_character(text: str) -> str:
    """The check character that belongs after `text`.

    Source: ISO/IEC 7064, hybrid system MOD 37,36. Every wrong character is caught, and all but one in 630
    swaps of neighbours.

    Raises:
        ValueError: a character of `text` is not one of 0-9 and A-Z.

    >>> check_character("A12425GABC1234002")
    'M'
    """
    modulus = len(CHECK_ALPHABET)
    product = modulus
    for character in text:
        total = (product + CHECK_ALPHABET.index(character)) % modulus or modulus
        product = total * 2 % (modulus + 1)
    return CHECK_ALPHABET[(modulus + 1 - product) % modulus]


def read_code(text: str, shop_code: str) -> str:
    """The tag code in what a scanner or a person typed: any case, blanks and dashes dropped.

    Raises:
        NotATagError: wrong length, or a character that no tag code has.
        WrongCheckCharacterError: misread or mistyped.
        OtherShopError: a sound code that does not begin with `shop_code`.
    """
    code = "".join(c for c in text.upper() if not _is_blank_or_dash(c))
    _must_look_like_a_code(code)
    if check_character(code[:-1]) != code[-1]:
        raise WrongCheckCharacterError(
            f"{spoken(code)} has a wrong character in it; scan the tag again, or compare it letter by letter"
        )
    if not code.startswith(shop_code):
        raise OtherShopError(
            f"{spoken(code)} is a tag of another shop (it begins with {code[:SHOP_LENGTH]}, "
            f"ours with {shop_code}); do not press this garment, ask whose it is"
        )
    return code


def spoken(code: str) -> str:
    """The code in groups of four, as it is printed and read aloud.

    >>> spoken("K7KM4EQ7")
    'K7KM 4EQ7'
    """
    return " ".join(code[start : start + SPOKEN_GROUP] for start in range(0, len(code), SPOKEN_GROUP))


def _draw(length: int, random: Random) -> str:
    return "".join(random.choice(ALPHABET) for _ in range(length))


def _is_blank_or_dash(character: str) -> bool:
    return character.isspace() or unicodedata.category(character) in ("Pd", "Cc", "Cf")


def _must_look_like_a_code(code: str) -> None:
    mend = f"scan the tag again, or type the {CODE_LENGTH} characters on it"
    strange = next((character for character in code if character not in ALPHABET), None)
    if strange is not None:
        raise NotATagError(f"“{strange}” is in no tag code; {mend}")
    if len(code) != CODE_LENGTH:
        raise NotATagError(f"a tag code has {CODE_LENGTH} characters, here are {len(code)}; {mend}")
