"""The fonts that the app and the paper share, each in two weights, with their licences beside them.

Scripts whose letters stand side by side are covered, and Arabic by its joined forms. For other scripts and
for emoji `system_fonts` looks for fonts of the computer, which are drawn letter by letter too. What none has
is shown by its code point.
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
    """The file of a font that is shipped, named like "B612-Bold", or of one that is named by its path.

    Raises:
        ValueError: no such font is shipped.
    """
    if Path(name).is_absolute():
        return Path(name)
    family, _, weight = name.partition("-")
    if family not in (*FAMILIES, MONOSPACED) or weight not in WEIGHTS:
        raise ValueError(f"{name!r} is none of the fonts shipped: {', '.join((*FAMILIES, MONOSPACED))}")
    return FOLDER / f"{name}.ttf"
