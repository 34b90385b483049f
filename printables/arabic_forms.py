"""Arabic letters in the form they take beside their neighbours, for fonts that are drawn letter by letter.

Unicode keeps each joined form as a character of its own and names the letter it stands for; the table is
read from Python's own Unicode data. Marks above and below do not break a join.
"""

import unicodedata
from functools import cache

TATWEEL = "\u0640"
ZERO_WIDTH_JOINER = "\u200d"
_JOINERS = (TATWEEL, ZERO_WIDTH_JOINER)
_LAM = "\u0644"
_PRESENTATION_FORMS = (*range(0xFB50, 0xFE00), *range(0xFE70, 0xFEFD))

FormTable = dict[tuple[str, str], str]


def join_arabic(text: str) -> str:
    """The text with every Arabic letter in its initial, medial, final or isolated form, in reading order."""
    if text.isascii() or not any("\u0600" <= character <= "\u08ff" for character in text):
        return text
    letters = _ligate(text)
    return "".join(_form(letters, place) for place in range(len(letters)))


@cache
def _forms() -> FormTable:
    """By letter (or lam with alef) and form: the character that shows it."""
    table: FormTable = {}
    for code_point in _PRESENTATION_FORMS:
        form, *letters = unicodedata.decomposition(chr(code_point)).split() or [""]
        base = "".join(chr(int(letter, 16)) for letter in letters)
        if len(base) == 1 or (len(base) == 2 and base[0] == _LAM and code_point >= 0xFEF5):
            table.setdefault((base, form.strip("<>")), chr(code_point))
    return table


def _ligate(text: str) -> list[str]:
    """The letters one by one, except that lam and alef, which may not stand apart, make one."""
    letters: list[str] = []
    for character in text:
        if letters and (letters[-1] + character, "isolated") in _forms():
            letters[-1] += character
        else:
            letters.append(character)
    return letters


def _form(letters: list[str], place: int) -> str:
    letter = letters[place]
    before = _joins(_neighbour(letters, place, -1), "initial")
    after = _joins(_neighbour(letters, place, +1), "final")
    wanted = {(True, True): ["medial", "final"], (True, False): ["final"], (False, True): ["initial"]}
    choices = [*wanted.get((before, after), []), "isolated"]
    return next((_forms()[letter, form] for form in choices if (letter, form) in _forms()), letter)


def _neighbour(letters: list[str], place: int, step: int) -> str:
    place += step
    while 0 <= place < len(letters) and unicodedata.category(letters[place][0]) == "Mn":
        place += step
    return letters[place] if 0 <= place < len(letters) else ""


def _joins(letter: str, form: str) -> bool:
    return letter in _JOINERS or (letter, form) in _forms()
