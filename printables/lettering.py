"""Which font draws which character, and how wide that is.

Text of any script is made ready in three steps: it becomes one plain line, its Arabic letters are joined,
and right-to-left words are turned into the order in which they are drawn. Letters are then drawn one beside
the other without a shaping engine, so a mark sits over its letter where the font puts it by itself.
"""

import unicodedata
from collections.abc import Sequence
from functools import cache, lru_cache
from itertools import groupby
from typing import NamedTuple

from fontTools.ttLib import TTFont
from fpdf.bidi import BidiParagraph

from printables.arabic_forms import join_arabic
from printables.code_points import code_point_advance_em
from printables.fonts import FAMILIES, MONOSPACED, font_path

NO_BREAK_SPACE = "\u00a0"

Chain = tuple[str, ...]  # fonts in the order in which they are asked for a character
REGULAR: Chain = tuple(f"{family}-Regular" for family in FAMILIES)
BOLD: Chain = tuple(f"{family}-Bold" for family in FAMILIES)
CODE: Chain = (f"{MONOSPACED}-Bold", *BOLD)


class Run(NamedTuple):
    """Characters in drawing order that one font draws; `font` is None where no font has them."""

    font: str | None
    text: str


def plain_line(text: str) -> str:
    """The text as one line in reading order: composed (NFC), Arabic joined, blanks single, none invisible."""
    composed = join_arabic(unicodedata.normalize("NFC", text))
    seen = (
        " " if _is_blank(character) else character for character in composed if not _is_invisible(character)
    )
    return " ".join(part for part in "".join(seen).split(" ") if part)


def runs_of(text: str, chain: Chain = REGULAR) -> tuple[Run, ...]:
    """The plain line cut into runs, left to right as it is drawn.

    A word is drawn by the first font that has all of it, so that it doesn't change its face half-way; where
    none has, each letter with its marks is drawn by the first font that has it.
    """
    words = groupby(_drawing_order(text), key=lambda cluster: cluster == " ")
    pairs = [pair for _, word in words for pair in _fonts_of(list(word), chain)]
    return tuple(
        Run(font, "".join(part for _, part in group))
        for font, group in groupby(pairs, key=lambda pair: pair[0])
    )


@lru_cache(maxsize=20_000)
def width_em(text: str, chain: Chain = REGULAR) -> float:
    """How wide the plain line is, in ems."""
    return sum(run_width_em(run) for run in runs_of(text, chain))


def run_width_em(run: Run) -> float:
    """How wide one run is, in ems."""
    return sum(advance_em(run.font, character) for character in run.text)


def advance_em(font: str | None, character: str) -> float:
    """How far the pen moves for one character, in ems; for one that no font has, for its stand-in."""
    return code_point_advance_em(character) if font is None else advances_em(font)[ord(character)]


@cache
def advances_em(font: str) -> dict[int, float]:
    """By code point, the advance width of every character that the font has, in ems."""
    with TTFont(font_path(font), fontNumber=0, lazy=True) as face:
        units, metrics = face["head"].unitsPerEm, face["hmtx"].metrics
        return {code_point: metrics[glyph][0] / units for code_point, glyph in face.getBestCmap().items()}


def missing_letters(text: str, chain: Chain = REGULAR) -> frozenset[str]:
    """Return the characters of the text that none of these fonts has, once it is one plain line."""
    if text.isascii():
        return frozenset()
    letters = set(plain_line(text)) - {" "}
    return frozenset(letter for letter in letters if _first_font(letter, chain) is None)


def clusters_of(text: str) -> list[str]:
    """The line cut into letters, each with the marks that belong to it."""
    clusters: list[str] = []
    for character in text:
        if clusters and unicodedata.category(character) in ("Mn", "Me"):
            clusters[-1] += character
        else:
            clusters.append(character)
    return clusters


def _drawing_order(text: str) -> list[str]:
    """Letters with their marks, left to right (Unicode Standard Annex 9)."""
    clusters = clusters_of(text)
    if not any(unicodedata.bidirectional(cluster[0]) in ("R", "AL", "AN") for cluster in clusters):
        return clusters
    paragraph = BidiParagraph("".join(cluster[0] for cluster in clusters))
    return [
        placed.character + clusters[placed.character_index][1:]
        for placed in paragraph.get_reordered_characters()
    ]


def _fonts_of(parts: Sequence[str], chain: Chain) -> list[tuple[str | None, str]]:
    """The font of a word or letter; where none has it whole, those of its letters, or of letter and marks."""
    whole = "".join(parts)
    font = _first_font(whole, chain)
    if font is not None or len(whole) == 1:
        return [(font, whole)]
    smaller = parts if len(parts) > 1 else list(whole)
    return [pair for part in smaller for pair in _fonts_of([part], chain)]


@lru_cache(maxsize=20_000)
def _first_font(text: str, chain: Chain) -> str | None:
    return next(
        (font for font in chain if all(ord(character) in advances_em(font) for character in text)), None
    )


def _is_blank(character: str) -> bool:
    return character != NO_BREAK_SPACE and (character.isspace() or unicodedata.category(character) == "Cc")


def _is_invisible(character: str) -> bool:
    return unicodedata.category(character) == "Cf" or "\ufe00" <= character <= "\ufe0f"
