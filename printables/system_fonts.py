"""Fonts of this computer, for letters that the shipped ones lack.

A font is named by its file's path. Only outlines serve: a font of coloured pictures cannot be printed in one
colour, so an emoji that none but such a font has counts as one without a font.
"""

import logging
import os
import sys
from collections.abc import Iterable, Iterator, Mapping, Sequence, Set
from functools import cache
from io import BytesIO
from pathlib import Path
from threading import Lock
from typing import Any

from fontTools.pens.boundsPen import BoundsPen
from fontTools.subset import Options as SubsetOptions
from fontTools.subset import Subsetter
from fontTools.ttLib import TTFont
from fontTools.ttLib.tables.O_S_2f_2 import intersectUnicodeRanges
from PIL import ImageFont

# Tables that no paper needs are left out of an embedded font: nobody has to be told.
logging.getLogger("fontTools.subset").setLevel(logging.ERROR)

SETTING = "FLOORAPP_FONTS"
"""Names the one folder in which fonts are looked for, in place of the system's own."""

ENDINGS = frozenset({".ttf", ".otf", ".ttc", ".otc"})
NEEDED = ("cmap", "head", "hhea", "hmtx", "maxp", "name", "OS/2", "post")
"""OpenType specification: the tables that every font has."""

OUTLINES = ("glyf", "CFF ")
PICTURES = ("CBDT", "sbix", "COLR", "SVG ")
MOST_FILES = 5_000
PLAIN_FIRST = ("bold", "italic", "oblique", "condensed", "light", "thin", "black", "mono", "serif")
"""Words of a file's name that put it behind the plain faces."""

SHOWS_BOXES = ("lastresort", "adobeblank")
"""Fonts that have a box, or nothing at all, for every letter there is."""

EMBEDDING_BITS = 0x000F
RESTRICTED = 0x0002
"""OpenType specification, OS/2 table, fsType: such a font may not be embedded in a document."""


class SystemFonts:
    """Finds fonts in folders and remembers them by letter.

    A search reads files: it belongs off the screen's thread.
    """

    def __init__(self, folders: Sequence[Path]) -> None:
        self._folders = folders
        self._font_of: dict[str, str | None] = {}
        self._lock = Lock()

    def search(self, letters: Iterable[str]) -> tuple[str, ...]:
        """Return the fonts that draw these letters; a letter that no font has is sought again each time."""
        with self._lock:
            self._font_of |= self._found({letter for letter in letters if self._font_of.get(letter) is None})
        return self.known(letters) or ()

    def known(self, letters: Iterable[str]) -> tuple[str, ...] | None:
        """Return the fonts found for these letters without reading a file; None while one was not sought."""
        if not all(letter in self._font_of for letter in letters):
            return None
        fonts = (self._font_of[letter] for letter in sorted(letters))
        return tuple(dict.fromkeys(font for font in fonts if font is not None))

    def _found(self, wanted: set[str]) -> dict[str, str | None]:
        font_of: dict[str, str | None] = dict.fromkeys(wanted)
        for path in _font_files(self._folders) if wanted else ():
            has = letters_drawn_by(path, wanted)
            font_of |= dict.fromkeys(has, str(path))
            wanted -= has
            if not wanted:
                break
        return font_of


NO_FONTS = SystemFonts(())


@cache
def system_fonts() -> SystemFonts:
    """The fonts of this computer, searched once for all that ask."""
    return SystemFonts(font_folders(sys.platform, os.environ, Path.home()))


def font_folders(platform: str, environ: Mapping[str, str], home: Path) -> tuple[Path, ...]:
    """Return where fonts are kept: where FLOORAPP_FONTS says, or where the system and its user have them."""
    if environ.get(SETTING):
        return (Path(environ[SETTING]),)
    if platform == "win32":
        own = Path(environ.get("LOCALAPPDATA", home / "AppData" / "Local"))
        system = Path(environ.get("WINDIR", r"C:\Windows"))
        return (system / "Fonts", own / "Microsoft" / "Windows" / "Fonts")
    if platform == "darwin":
        return (Path("/System/Library/Fonts"), Path("/Library/Fonts"), home / "Library" / "Fonts")
    own = Path(environ.get("XDG_DATA_HOME") or home / ".local" / "share")
    return (Path("/usr/share/fonts"), Path("/usr/local/share/fonts"), own / "fonts", home / ".fonts")


def letters_drawn_by(path: Path, wanted: Set[str]) -> set[str]:
    """Return which of the letters the font draws with outlines; none if the file is no font that serves."""
    try:
        with path.open("rb") as file, TTFont(file, fontNumber=0, lazy=True) as face:
            drawn = set(_drawn(face, wanted)) if _serves(face, wanted) else set()
            if drawn:
                _try_to_print(face, path, drawn)
    except Exception:  # anything may lie in such a folder, and a broken font may break in any way
        return set()
    return drawn


def _try_to_print(face: Any, path: Path, letters: set[str]) -> None:
    """Raises whatever a font raises that can be read and yet not be embedded or drawn."""
    cut = Subsetter(SubsetOptions(notdef_outline=True))
    cut.populate(unicodes=set(map(ord, letters)))
    cut.subset(face)
    face.save(BytesIO())
    font = ImageFont.truetype(path, 20, layout_engine=ImageFont.Layout.BASIC)
    font.getbbox("".join(sorted(letters)))


def _serves(face: Any, wanted: Set[str]) -> bool:
    """Whether the font has outlines that may be printed, and says that it has letters of these blocks."""
    if not all(table in face for table in NEEDED) or not any(table in face for table in OUTLINES):
        return False
    if any(table in face for table in PICTURES):
        return False
    says = face["OS/2"]
    if says.fsType & EMBEDDING_BITS == RESTRICTED:
        return False
    blocks, has = intersectUnicodeRanges(set(map(ord, wanted))), says.getUnicodeRanges()
    return not blocks or not has or bool(blocks & has)


def _drawn(face: Any, wanted: Set[str]) -> Iterator[str]:
    glyphs, glyph_of = face.getGlyphSet(), face.getBestCmap() or {}
    for letter in wanted:
        if ord(letter) in glyph_of:
            pen = BoundsPen(glyphs)
            glyphs[glyph_of[ord(letter)]].draw(pen)
            if pen.bounds is not None or letter.isspace():
                yield letter


def _font_files(folders: Sequence[Path]) -> list[Path]:
    found = (path for folder in folders for path in _files_in(folder))
    fonts = [path for path in found if path.suffix.lower() in ENDINGS and not _shows_boxes(path)]
    return sorted(fonts[:MOST_FILES], key=lambda path: (_is_special(path), str(path)))


def _files_in(folder: Path) -> Iterator[Path]:
    for place, inner, names in os.walk(folder):
        inner.sort()
        yield from (Path(place, name) for name in sorted(names))


def _shows_boxes(path: Path) -> bool:
    return path.stem.lower().replace("-", "").replace(" ", "").startswith(SHOWS_BOXES)


def _is_special(path: Path) -> bool:
    return any(word in path.stem.lower() for word in PLAIN_FIRST)
