"""Words of any script on the screen: what B612 lacks is drawn in another font, by Kivy's markup.

Another shipped font is asked first, then the fonts of the computer, which are sought in a thread. Until they
are found, and if there is none, a letter is shown by its code point.
"""

from collections.abc import Callable
from functools import lru_cache
from typing import TYPE_CHECKING

from kivy.clock import Clock
from kivy.core.text import LabelBase
from kivy.utils import escape_markup

from floorapp.theme import FACE
from printables.fonts import font_path

if TYPE_CHECKING:
    from floorapp.font_search import FontSearch
    from printables.lettering import Chain, Run
    from printables.system_fonts import SystemFonts

LATIN = frozenset(map(chr, (*range(0x20, 0x7F), *range(0xA0, 0x100)))) | frozenset("–…·’‘“”−‹›→\n")
"""Characters that B612 surely has: most texts need no closer look."""

Fitted = tuple[str, bool]

_registered: dict[str, str] = {}


class _Search:
    """The one search for fonts; it is made when the first letter asks for it."""

    current: "FontSearch | None" = None


def seek_in(fonts: "SystemFonts") -> "FontSearch":
    """Let letters that no shipped font has be sought in these fonts from now on."""
    from floorapp.font_search import FontSearch

    _Search.current = FontSearch(fonts, lambda call: Clock.schedule_once(lambda _: call()))
    return _Search.current


def fitted(words: str, *, bold: bool = False, again: Callable[[], None] | None = None) -> Fitted:
    """The text for a label, and whether it is markup.

    `again`, a method, is called when fonts for letters that have none yet have been sought.
    """
    if LATIN.issuperset(words):
        return words, False
    return _fitted(words, bold, _fonts_for(words, again))


def _fonts_for(words: str, again: Callable[[], None] | None) -> "Chain":
    """Fonts of the computer for what the shipped ones lack, as far as they are known."""
    letters = _missing(words)
    if not letters:
        return ()
    if _Search.current is None:
        from printables.system_fonts import system_fonts

        seek_in(system_fonts())
    return _Search.current.known(letters, again) if _Search.current else ()


@lru_cache(maxsize=2_000)
def _missing(words: str) -> frozenset[str]:
    from printables.lettering import missing_letters

    return missing_letters(words)


@lru_cache(maxsize=2_000)
def _fitted(words: str, bold: bool, more: "Chain") -> Fitted:
    return "\n".join(_fitted_line(line, bold, more) for line in words.split("\n")), True


def _runs(line: str, more: "Chain", *, bold: bool) -> "tuple[Run, ...]":
    from printables.lettering import BOLD, REGULAR, plain_line, runs_of  # reads font files, seldom needed

    return runs_of(plain_line(line), (BOLD if bold else REGULAR) + more)


def _fitted_line(line: str, bold: bool, more: "Chain") -> str:
    marked = "".join(_marked(run.font, run.text) for run in _runs(line, more, bold=bold))
    return " ".join(word for word in marked.split(" ") if word)


def _marked(font: str | None, text: str) -> str:
    if font is None:  # no font has it: its code point tells at least that something stands there
        return "".join(f" U+{ord(character):04X} " for character in text)
    if font.partition("-")[0] == FACE:
        return escape_markup(text)
    return f"[font={_known(font)}]{escape_markup(text)}[/font]"


def _known(font: str) -> str:
    """The name by which Kivy knows the font; a path may hold signs that end the markup."""
    if font not in _registered:
        path = str(font_path(font))
        name = font if path != font else f"computer-{len(_registered)}"
        LabelBase.register(name, path, fn_bold=path)
        _registered[font] = name
    return _registered[font]
