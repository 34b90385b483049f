"""The fonts that the app and the paper share, each in two weights, with their licences beside them.

Scripts whose letters stand side by side are covered, and Arabic by its joined forms; scripts that need a
shaping engine (Devanagari and its relatives, Khmer, Burmese) and the large Chinese, Japanese and Korean
fonts are not: their characters are shown by code point.
"""

from pathlib import Path

FOLDER = Path(__file__).parent

# In the order in which they are asked for a character.
FAMILIES = (
    "B612",
    "NotoSans",
    "NotoSansHebrew",
    "NotoSansArabic",
    "NotoSansArmenian",
    "NotoSansGeorgian",
    "NotoSansEthiopic",
    "NotoSansThai",
    "NotoSansLao",
)
MONOSPACED = "B612Mono"
WEIGHTS = ("Regular", "Bold")


def font_path(name: str) -> Path:
    """The file of a font, named like "B612-Bold" or "NotoSans-Regular".

    Raises:
        ValueError: no such font is shipped.
    """
    family, _, weight = name.partition("-")
    if family not in (*FAMILIES, MONOSPACED) or weight not in WEIGHTS:
        raise ValueError(f"{name!r} is none of the fonts shipped: {', '.join((*FAMILIES, MONOSPACED))}")
    return FOLDER / f"{name}.ttf"
