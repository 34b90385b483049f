"""Which drawings are read at all: plain outlines, self-contained, and of bearable size.

What an outline cannot follow (text, pictures, masks) is refused rather than left out: a piece of the wrong
outline would be planned, cut and pressed.
"""

import re
from collections.abc import Iterator
from xml.etree.ElementTree import Element

from models.job.fault_list import FaultList, UnreadableError
from models.job.files import WHOLE_FILE
from models.job.path_grammar import is_whole_path
from models.job.svg_style import CHANGING, REFERS_OUTSIDE, has_long_blanks, is_plain_sheet, style_faults
from models.job.svg_tree import SvgTree, name_of, read_tree

XLINK_HREF = "{http://www.w3.org/1999/xlink}href"
OUTLINES = {"path", "rect", "circle", "ellipse", "line", "polyline", "polygon"}
AROUND_THEM = {"g", "a", "defs", "use", "title", "desc", "metadata", "style"}
COLOURS = {"linearGradient", "radialGradient", "stop"}
MENDS = {
    "script": "take the script out",
    "image": "trace the picture to paths",
    "text": "turn the text into paths",
}

MAX_ELEMENTS = 2_000
LETTERS_OF_AN_ELEMENT = 150
"""A path of more letters counts for as many elements: a drawing takes a few seconds at most."""

# none of these patterns can be made to try one text in many ways
NUMBER = r"[-+]?(\d+(\.\d*)?|\.\d+)([eE][-+]?\d+)?"
LENGTH = re.compile(rf"\s*{NUMBER}(px|mm|cm|in|pt|pc|%)?\s*")
TRANSFORM = re.compile(r"[\s,]*((matrix|translate|scale|rotate|skewX|skewY)\s*\([-+.\d\seE,]*\)[\s,]*)*")
FORMS = {
    "points": re.compile(r"[\d\seE.,+-]*"),
    "transform": TRANSFORM,
    "viewBox": re.compile(rf"\s*{NUMBER}([\s,]+{NUMBER}){{3}}\s*"),
} | dict.fromkeys(("x", "y", "width", "height", "cx", "cy", "r", "rx", "ry", "x1", "y1", "x2", "y2"), LENGTH)

MAX_ATTRIBUTE = 4_000
"""Letters of an attribute of SVG that is not a list of points; an editor's own may be longer."""


def must_be_plain(content: bytes, faults: FaultList) -> bool:
    """Whether the drawing may be read; what speaks against it is noted."""
    try:
        tree = read_tree(content)
    except UnreadableError as error:
        faults.note(error.place, error.wrong, error.mend)
        return False
    found = [(tree.place(element), *fault) for element in tree.lines for fault in _faults_of(element, tree)]
    found += _size_faults(tree)
    for place, wrong, mend in dict.fromkeys(found):
        faults.note(place, wrong, mend)
    return not found


def _faults_of(element: Element, tree: SvgTree) -> Iterator[tuple[str, str]]:
    name = name_of(element)
    is_of_an_editor = name.startswith("{")
    if element is not tree.root and not is_of_an_editor and name not in OUTLINES | AROUND_THEM | COLOURS:
        yield "is not read in an outline", MENDS.get(name, "turn what it draws into plain paths")
    if name == "style":
        yield from _sheet_faults(element.text or "")
    for key, value in element.attrib.items():
        yield from _attribute_faults(key, value)


def _attribute_faults(key: str, value: str) -> Iterator[tuple[str, str]]:
    is_reference = key in ("href", XLINK_HREF, "src")
    if is_reference and not value.strip().startswith("#"):
        yield REFERS_OUTSIDE
    if key in CHANGING and value.strip() != "none":
        yield f"{key} changes the outline and is not followed", "cut the paths themselves"
    yield from style_faults(value)
    if key.lower().startswith("on"):
        yield f"{key} is a script", "take the script out"
    if not _is_well_formed(key, value):
        yield f"{key} is not written as SVG asks", "save the drawing again"
    elif _is_too_long(key, value):
        yield f"{key} is too long to be read", "save the drawing as plain SVG"


def _is_well_formed(key: str, value: str) -> bool:
    if key == "d":
        return is_whole_path(value)
    return key not in FORMS or FORMS[key].fullmatch(value) is not None


def _is_too_long(key: str, value: str) -> bool:
    if key in ("d", "points"):  # counted with the detail
        return has_long_blanks(value)
    return not key.startswith("{") and (len(value) > MAX_ATTRIBUTE or has_long_blanks(value))


def _sheet_faults(text: str) -> Iterator[tuple[str, str]]:
    yield from style_faults(text)
    if not is_plain_sheet(text):
        yield "is not a short list of plain rules", "save the drawing as plain SVG"


def _size_faults(tree: SvgTree) -> list[tuple[str, str, str]]:
    try:
        drawn = _Drawn(tree).count(tree.root)
    except UnreadableError as error:
        return [(error.place, error.wrong, error.mend)]
    if drawn > MAX_ELEMENTS:
        return [(WHOLE_FILE, f"has more detail than {MAX_ELEMENTS:,} elements", "simplify it")]
    return []


def _detail(element: Element) -> int:
    """How many plain elements take as long: each subpath counts, and arcs count thrice."""
    path = element.get("d", "").lower()
    letters = len(path) + len(element.get("points", ""))
    subpaths = max(path.count("m"), path.count("z"), 1)
    has_arcs = name_of(element) in ("circle", "ellipse") or not {"rx", "ry"}.isdisjoint(element.attrib)
    return (3 if has_arcs else subpaths) + letters // LETTERS_OF_AN_ELEMENT


class _Drawn:
    """Counts the elements drawn, each <use> with all that it repeats: few lines can ask for billions."""

    def __init__(self, tree: SvgTree) -> None:
        self._tree = tree
        self._by_id = {element.get("id"): element for element in tree.lines}
        self._counted: dict[Element, int] = {}
        self._open: set[Element] = set()

    def count(self, element: Element) -> int:
        if element in self._open:
            raise UnreadableError(
                "repeats itself without end", "let it use another element", self._tree.place(element)
            )
        if element not in self._counted:
            self._open.add(element)
            self._counted[element] = _detail(element) + sum(map(self.count, self._inner(element)))
            self._open.remove(element)
        return self._counted[element]

    def _inner(self, element: Element) -> list[Element]:
        if name_of(element) != "use":
            return list(element)
        used = element.get("href", element.get(XLINK_HREF, "")).strip().removeprefix("#")
        if used not in self._by_id:
            raise UnreadableError(
                f'uses "{used}", which is not in the drawing', "draw it", self._tree.place(element)
            )
        return [self._by_id[used]]
