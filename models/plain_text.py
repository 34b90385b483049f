"""Text that people write and read: one line of it, and the same letters always stored the same.

Sources, from memory: Unicode Standard Annex 31, 2.3, and RFC 5892, A.1 and A.2, say where joiners change
letters; The Unicode Standard, chapter 12, has one before the virama in Bengali; Unicode Technical Standard
51, ED-16, has them in emoji.
"""

import unicodedata

ZERO_WIDTH_NON_JOINER = "\u200c"
ZERO_WIDTH_JOINER = "\u200d"
JOINERS = frozenset({ZERO_WIDTH_NON_JOINER, ZERO_WIDTH_JOINER})

JOINING_SCRIPTS = frozenset(
    (
        "ADLAM", "ARABIC", "BALINESE", "BENGALI", "DEVANAGARI", "GUJARATI", "GURMUKHI", "HANIFI", "JAVANESE",
        "KANNADA", "KHMER", "MALAYALAM", "MANDAIC", "MANICHAEAN", "MONGOLIAN", "MYANMAR", "NKO", "ORIYA",
        "SINHALA", "SYRIAC", "TAMIL", "TELUGU", "TIBETAN",
    )
)  # fmt: skip
"""First words of their letters' Unicode names: letters that join, or form one sign with their neighbours."""

VIRAMA = 9  # canonical combining class
PRESENTATION_AS_EMOJI = "\ufe0f"


def composed(text: str) -> str:
    """Return the text in Normalization Form C, so that one name is one text whichever program saved it.

    >>> composed("A\u030ase") == "Åse"
    True
    """
    return unicodedata.normalize("NFC", text)


def is_one_line(text: str) -> bool:
    """Return whether every character shows, or is a joiner where its script uses it.

    Line breaks, control characters and signs that turn the direction of what follows do not show.

    >>> is_one_line("علی\u200cرضا"), is_one_line("An\u200cn"), is_one_line("Ann\u202e")
    (True, False, False)
    """
    return all(
        character.isprintable() or (character in JOINERS and _belongs(text, place))
        for place, character in enumerate(text)
    )


def _belongs(text: str, place: int) -> bool:
    before, after = text[:place], text[place + 1 : place + 2]
    if (
        text[place] == ZERO_WIDTH_JOINER
        and _ends_in_emoji(before)
        and unicodedata.category(after or " ") == "So"
    ):
        return True
    if before and unicodedata.combining(before[-1]) == VIRAMA:
        return True
    return _joins(before[-1:]) and _joins(after)


def _ends_in_emoji(text: str) -> bool:
    """Whether the last sign is an emoji, its skin tone and its variation selector aside."""
    sign = text.rstrip(PRESENTATION_AS_EMOJI)[-1:]
    return unicodedata.category(sign or " ") == "So" or "\U0001f3fb" <= sign <= "\U0001f3ff"


def _joins(character: str) -> bool:
    """Whether it is a letter or mark of a script whose signs join."""
    if not character or unicodedata.category(character)[0] not in "LM":
        return False
    return unicodedata.name(character, "").split(" ")[0].split("-")[0] in JOINING_SCRIPTS
