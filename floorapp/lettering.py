"""Words of any script on the screen: what B612 lacks is drawn in another shipped font, by Kivy's markup."""

from functools import lru_cache
from typing import TYPE_CHECKING

from kivy.core.text import LabelBase
from kivy.utils import escape_markup

from floorapp.theme import FACE
from printables.fonts import font_path

if TYPE_CHECKING:
    from printables.lettering import Run

LATIN = frozenset(map(chr, (*range(0x20, 0x7F), *range(0xA0, 0x100)))) | frozenset("–…·’‘“”−‹›→\n")
"""Characters that B612 surely has: most texts need no closer look."""

_registered: set[str] = set()


@lru_cache(maxsize=2_000)
def fitted(words: str, *, bold: bool = False) -> tuple[str, bool]:
    """The text for a label, and whether it is markup."""
    if LATIN.issuperset(words):
        return words, False
    return "\n".join(_fitted_line(line, bold) for line in words.split("\n")), True


def _runs(line: str, *, bold: bool) -> "tuple[Run, ...]":
    from printables.lettering import BOLD, REGULAR, plain_line, runs_of  # reads font files, seldom needed

    return runs_of(plain_line(line), BOLD if bold else REGULAR)


def _fitted_line(line: str, bold: bool) -> str:
    marked = "".join(_marked(run.font, run.text) for run in _runs(line, bold=bold))
    return " ".join(word for word in marked.split(" ") if word)


def _marked(font: str | None, text: str) -> str:
    if font is None:  # no shipped font has it: its code point tells at least that something stands there
        return "".join(f" U+{ord(character):04X} " for character in text)
    if font.partition("-")[0] == FACE:
        return escape_markup(text)
    return f"[font={_known(font)}]{escape_markup(text)}[/font]"


def _known(font: str) -> str:
    if font not in _registered:
        path = str(font_path(font))
        LabelBase.register(font, path, fn_bold=path)
        _registered.add(font)
    return font
