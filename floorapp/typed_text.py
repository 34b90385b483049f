"""Text typed on our own large keys: each key makes another text of the one that stands there."""

KEY_CASE, KEY_ACCENT, KEY_BACK = "Aa", "á", "back"
VARIANTS = (
    "aáàâäãåāăąæ", "cćčçĉ", "dďđð", "eéèêëēęěė", "gğģ", "iíìîïīįı", "kķ", "lłľļĺ", "nñńňņ",
    "oóòôöõøōőœ", "rřŕ", "sśšşșß", "tťţțþ", "uúùûüūůűų", "wŵ", "yýÿŷ", "zźžż",
)  # fmt: skip
"""Each letter with those that the accent key makes of it, one after the other, and round again."""

LONGEST = 60


def typed(text: str, key: str, *, is_name: bool = True) -> str:
    """Return the text after one key: a character, or one of the named keys.

    In a name a word begins with a capital and goes on in small letters; the case key changes the last one.
    """
    if key == KEY_BACK:
        return text[:-1]
    if key == KEY_CASE:
        return text[:-1] + text[-1:].swapcase()
    if key == KEY_ACCENT:
        return text[:-1] + _next_variant(text[-1:])
    is_second_blank = key == " " and text[-1:] in {"", " "}
    if len(text) >= LONGEST or is_second_blank:
        return text
    return text + (_as_in_a_name(text, key) if is_name else key)


def _as_in_a_name(text: str, key: str) -> str:
    return key.lower() if text[-1:].isalnum() else key.upper()


def _next_variant(letter: str) -> str:
    """The next of the letters that differ by an accent, in the same case."""
    small = letter.lower()
    row = next((row for row in VARIANTS if small and small in row), "")
    if not row:
        return letter
    following = row[(row.index(small) + 1) % len(row)]
    capital = following.upper()
    return capital if letter != small and len(capital) == 1 else following
