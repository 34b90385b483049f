"""Styles in a drawing: what they may not say, and the plain form they must have."""

import re
from collections.abc import Iterator

CHANGING = ("clip-path", "mask", "filter")

REFERS_OUTSIDE = ("refers to something outside the drawing", "take the reference out")

# In letters. The library that reads drawings tries long texts in very many ways, so they are kept from it.
MAX_SHEET = 20_000
MAX_RULE = 2_000
MAX_BLANKS = 100

_CHANGED = re.compile(rf"(?:^|[;{{\s])({'|'.join(CHANGING)}|transform)\s*:(?!\s*none)", re.IGNORECASE)
_OUTSIDE = re.compile(r"""@import|url\(\s*(?:["']\s*)?[^#"'\s]""", re.IGNORECASE)
_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)


def style_faults(text: str) -> Iterator[tuple[str, str]]:
    """What a style, or any attribute, may not say: what is wrong, and the mend."""
    if _OUTSIDE.search(text):
        yield REFERS_OUTSIDE
    for changed in _CHANGED.findall(text):
        yield f"{changed} changes the outline and is not followed", "cut the paths themselves"


def is_plain_sheet(text: str) -> bool:
    """Whether a style sheet is nothing but a bearable number of rules, each of a selector and a block.

    A backslash could hide a word from us; two slashes begin a comment for the library, though not in CSS.
    """
    if len(text) > MAX_SHEET or has_long_blanks(text) or "\\" in text or "//" in text:
        return False
    *rules, rest = _COMMENT.sub("", text).split("}")
    if "/*" in rest or rest.strip():
        return False
    return all(rule.count("{") == 1 and len(rule) <= MAX_RULE for rule in rules)


def has_long_blanks(text: str) -> bool:
    return re.search(rf"\s{{{MAX_BLANKS}}}", text) is not None
