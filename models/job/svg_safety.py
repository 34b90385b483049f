"""Which drawings are read at all: plain outlines, self-contained, and of bearable size.

What an outline cannot follow (text, pictures, masks) is refused rather than left out: a piece of the wrong
outline would be planned, cut and pressed.
"""

import re
from collections.abc import Iterator
from xml.etree.ElementTree import Element, ParseError

from defusedxml import DefusedXmlException, DTDForbidden
from defusedxml.ElementTree import fromstring

from models.job.fault_list import FaultList, UnreadableError
from models.job.files import WHOLE_FILE

SVG = "{http://www.w3.org/2000/svg}"
XLINK_HREF = "{http://www.w3.org/1999/xlink}href"
OUTLINES = {"path", "rect", "circle", "ellipse", "line", "polyline", "polygon"}
AROUND_THEM = {"g", "a", "defs", "use", "title", "desc", "metadata", "style"}
COLOURS = {"linearGradient", "radialGradient", "stop"}
MENDS = {
    "script": "take the script out",
    "image": "trace the picture to paths",
    "text": "turn the text into paths",
}

MAX_DEPTH = 100
MAX_ELEMENTS = 2_000
LETTERS_OF_AN_ELEMENT = 150
"""A path of more letters counts for as many elements: a drawing takes a few seconds at most."""

# none of these patterns can be made to try one text in many ways
NUMBER = r"[-+]?(\d+(\.\d*)?|\.\d+)([eE][-+]?\d+)?"
LENGTH = re.compile(rf"\s*{NUMBER}(px|mm|cm|in|pt|pc|%)?\s*")
TRANSFORM = re.compile(r"[\s,]*((matrix|translate|scale|rotate|skewX|skewY)\s*\([-+.\d\seE,]*\)[\s,]*)*")
FORMS = {
    "d": re.compile(r"[MmZzLlHhVvCcSsQqTtAa\d\seE.,+-]*"),
    "points": re.compile(r"[\d\seE.,+-]*"),
    "transform": TRANSFORM,
    "viewBox": re.compile(rf"\s*{NUMBER}([\s,]+{NUMBER}){{3}}\s*"),
} | dict.fromkeys(("x", "y", "width", "height", "cx", "cy", "r", "rx", "ry", "x1", "y1", "x2", "y2"), LENGTH)

CHANGING = ("clip-path", "mask", "filter")
CHANGED_BY_STYLE = re.compile(rf"(?:^|[;{{\s])({'|'.join(CHANGING)}|transform)\s*:(?!\s*none)", re.IGNORECASE)
REFERS_OUTSIDE = ("refers to something outside the drawing", "take the reference out")
OUTSIDE = re.compile(r"""@import|url\(\s*(?:["']\s*)?[^#"'\s]""", re.IGNORECASE)


def must_be_plain(content: bytes, faults: FaultList) -> bool:
    """Whether the drawing may be read; what speaks against it is noted."""
    try:
        root = _parsed(content)
        elements = list(_walk(root, 0))
    except UnreadableError as error:
        faults.note(error.place, error.wrong, error.mend)
        return False
    found = [(_told(element), *fault) for element in elements for fault in _faults_of(element, root)]
    found += _size_faults(root, elements)
    for place, wrong, mend in dict.fromkeys(found):
        faults.note(place, wrong, mend)
    return not found


def _parsed(content: bytes) -> Element:
    try:
        root = _parsed_without_foreign_dtd(content)
    except ParseError as error:
        line, column = error.position
        place = f"line {line}, column {column + 1}"
        raise UnreadableError("is no SVG: its XML is broken", "save the drawing again", place) from None
    except DefusedXmlException:
        raise UnreadableError(
            "declares entities or a document type of its own", "save the drawing as plain SVG", WHOLE_FILE
        ) from None
    except (ValueError, LookupError):  # an encoding that nobody knows
        raise UnreadableError("is no SVG text", "save the drawing as UTF-8", WHOLE_FILE) from None
    if root.tag not in ("svg", f"{SVG}svg"):
        raise UnreadableError("is no SVG drawing", "let its first element be <svg>", WHOLE_FILE)
    return root


def _parsed_without_foreign_dtd(content: bytes) -> Element:
    """Most drawings are saved with the standard's own DOCTYPE, which is never fetched."""
    root: Element
    try:
        root = fromstring(content, forbid_dtd=True)
    except DTDForbidden as error:
        if not str(error.pubid).startswith("-//W3C//DTD SVG"):
            raise
        root = fromstring(content)
    return root


def _walk(element: Element, depth: int) -> Iterator[Element]:
    if depth > MAX_DEPTH:
        raise UnreadableError("is nested too deeply", "ungroup the drawing", WHOLE_FILE)
    yield element
    for child in element:
        yield from _walk(child, depth + 1)


def _name(element: Element) -> str:
    return str(element.tag).removeprefix(SVG)


def _told(element: Element) -> str:
    named = element.get("id")
    return f'<{_name(element)} id="{named}">' if named else f"<{_name(element)}>"


def _faults_of(element: Element, root: Element) -> Iterator[tuple[str, str]]:
    name = _name(element)
    is_of_an_editor = name.startswith("{")
    if element is not root and not is_of_an_editor and name not in OUTLINES | AROUND_THEM | COLOURS:
        yield "is not read in an outline", MENDS.get(name, "turn what it draws into plain paths")
    if name == "style":
        yield from _style_faults(element.text or "")
    for key, value in element.attrib.items():
        yield from _attribute_faults(key, value)


def _attribute_faults(key: str, value: str) -> Iterator[tuple[str, str]]:
    is_reference = key in ("href", XLINK_HREF, "src")
    if is_reference and not value.strip().startswith("#"):
        yield REFERS_OUTSIDE
    if key in CHANGING and value.strip() != "none":
        yield f"{key} changes the outline and is not followed", "cut the paths themselves"
    yield from _style_faults(value)
    if key.lower().startswith("on"):
        yield f"{key} is a script", "take the script out"
    if key in FORMS and not FORMS[key].fullmatch(value):
        yield f"{key} is not written as SVG asks", "save the drawing again"


def _style_faults(text: str) -> Iterator[tuple[str, str]]:
    if OUTSIDE.search(text):
        yield REFERS_OUTSIDE
    for changed in CHANGED_BY_STYLE.findall(text):
        yield f"{changed} changes the outline and is not followed", "cut the paths themselves"


def _size_faults(root: Element, elements: list[Element]) -> list[tuple[str, str, str]]:
    try:
        drawn = _Drawn(elements).count(root)
    except UnreadableError as error:
        return [(error.place, error.wrong, error.mend)]
    if drawn > MAX_ELEMENTS:
        return [(WHOLE_FILE, f"has more detail than {MAX_ELEMENTS:,} elements", "simplify it")]
    return []


def _detail(element: Element) -> int:
    letters = len(element.get("d", "")) + len(element.get("points", ""))
    return 1 + letters // LETTERS_OF_AN_ELEMENT


class _Drawn:
    """Counts the elements drawn, each <use> with all that it repeats: few lines can ask for billions."""

    def __init__(self, elements: list[Element]) -> None:
        self._by_id = {element.get("id"): element for element in elements}
        self._counted: dict[Element, int] = {}
        self._open: set[Element] = set()

    def count(self, element: Element) -> int:
        if element in self._open:
            raise UnreadableError("repeats itself without end", "let it use another element", _told(element))
        if element not in self._counted:
            self._open.add(element)
            self._counted[element] = _detail(element) + sum(map(self.count, self._inner(element)))
            self._open.remove(element)
        return self._counted[element]

    def _inner(self, element: Element) -> list[Element]:
        if _name(element) != "use":
            return list(element)
        used = element.get("href", element.get(XLINK_HREF, "")).strip().removeprefix("#")
        if used not in self._by_id:
            raise UnreadableError(f'uses "{used}", which is not in the drawing', "draw it", _told(element))
        return [self._by_id[used]]
