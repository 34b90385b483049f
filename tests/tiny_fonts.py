"""Fonts made for a test: a few square letters of a script that no shipped font has."""

from collections.abc import Iterable
from pathlib import Path
from typing import Any

from fontTools.fontBuilder import FontBuilder
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTCollection, newTable

EM = 1000
ADVANCE = 900


def make_font(path: Path, letters: str, *, empty: str = "", **changes: Any) -> Path:
    """Writes a font in which each letter is a square, those of `empty` nothing at all.

    `changes`: `fs_type` of the OS/2 table; `pictures`, a table of coloured pictures; `collection`, in a .ttc.
    """
    names = {ord(letter): f"u{ord(letter):04X}" for letter in letters + empty}
    drawn = {".notdef": TTGlyphPen(None).glyph()}
    drawn |= {names[ord(letter)]: _square() for letter in letters}
    drawn |= {names[ord(letter)]: TTGlyphPen(None).glyph() for letter in empty}
    builder = FontBuilder(EM, isTTF=True)
    builder.setupGlyphOrder(list(drawn))
    builder.setupCharacterMap(names)
    builder.setupGlyf(drawn)
    builder.setupHorizontalMetrics(dict.fromkeys(drawn, (ADVANCE, 0)))
    builder.setupHorizontalHeader(ascent=900, descent=-100)
    builder.setupNameTable({"familyName": "Squares", "styleName": "Regular", "psName": "Squares-Regular"})
    builder.setupOS2(fsType=changes.get("fs_type", 0))
    builder.setupPost()
    if "pictures" in changes:
        builder.font[changes["pictures"]] = _raw_table(changes["pictures"])
    path.parent.mkdir(parents=True, exist_ok=True)
    _save(builder.font, path, in_collection=path.suffix == ".ttc")
    return path


def names_of(letters: Iterable[str]) -> list[str]:
    return sorted(f"U+{ord(letter):04X}" for letter in letters)


def _square() -> Any:
    pen = TTGlyphPen(None)
    pen.moveTo((100, 0))
    for corner in ((100, 800), (800, 800), (800, 0)):
        pen.lineTo(corner)
    pen.closePath()
    return pen.glyph()


def _raw_table(tag: str) -> Any:
    table = newTable("DSIG")  # any table that is written as it is
    table.ulVersion, table.usFlag, table.usNumSigs, table.signatureRecords = 1, 0, 0, []
    table.tableTag = tag
    return table


def _save(font: Any, path: Path, *, in_collection: bool) -> None:
    if not in_collection:
        font.save(path)
        return
    collection = TTCollection()
    collection.fonts = [font]
    collection.save(path)
