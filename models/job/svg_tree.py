"""A drawing's XML as a tree whose elements know their lines; nothing in it can reach out or grow."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any
from xml.etree.ElementTree import Element, ParseError, TreeBuilder

from defusedxml import DefusedXmlException, DTDForbidden
from defusedxml.ElementTree import DefusedXMLParser

from models.job.fault_list import UnreadableError
from models.job.files import WHOLE_FILE

SVG = "{http://www.w3.org/2000/svg}"

MAX_DEPTH = 100
MAX_WRITTEN = 20_000
"""Elements in the file, those of the editor that saved it included."""


@dataclass(frozen=True, slots=True)
class SvgTree:
    """The drawing's elements in file order, the root first."""

    lines: Mapping[Element, int]

    @property
    def root(self) -> Element:
        return next(iter(self.lines))

    def place(self, element: Element) -> str:
        named = element.get("id")
        told = f'<{name_of(element)} id="{named}">' if named else f"<{name_of(element)}>"
        return f"line {self.lines[element]} {told}"


def name_of(element: Element) -> str:
    """Without the namespace, where it is SVG's own."""
    return str(element.tag).removeprefix(SVG)


def read_tree(content: bytes) -> SvgTree:
    """The tree of a drawing.

    Raises UnreadableError for broken XML, for entities, and for elements that are too many or too deep.
    """
    try:
        tree = _read_without_foreign_dtd(content)
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
    if tree.root.tag not in ("svg", f"{SVG}svg"):
        raise UnreadableError("is no SVG drawing", "let its first element be <svg>", WHOLE_FILE)
    return tree


def _read_without_foreign_dtd(content: bytes) -> SvgTree:
    """Most drawings are saved with the standard's own DOCTYPE, which is never fetched."""
    try:
        return _read(content, forbid_dtd=True)
    except DTDForbidden as error:
        if not str(error.pubid).startswith("-//W3C//DTD SVG"):
            raise
        return _read(content, forbid_dtd=False)


def _read(content: bytes, *, forbid_dtd: bool) -> SvgTree:
    builder = _Builder()
    parser = DefusedXMLParser(target=builder, forbid_dtd=forbid_dtd)
    builder.expat = parser.parser
    parser.feed(content)
    parser.close()
    return SvgTree(builder.lines)


class _Builder(TreeBuilder):
    """Stops as soon as there are too many elements, before they cost the memory."""

    expat: Any

    def __init__(self) -> None:
        super().__init__()
        self.lines: dict[Element, int] = {}
        self._depth = 0

    def start(self, tag: Any, attrs: Any, /) -> Element:
        element = super().start(tag, attrs)
        self.lines[element] = self.expat.CurrentLineNumber
        self._depth += 1
        if self._depth > MAX_DEPTH:
            raise UnreadableError("is nested too deeply", "ungroup the drawing", self._line())
        if len(self.lines) > MAX_WRITTEN:
            raise UnreadableError(f"has more than {MAX_WRITTEN:,} elements", "simplify it", self._line())
        return element

    def end(self, tag: Any, /) -> Element:
        self._depth -= 1
        return super().end(tag)

    def pi(self, target: str, _text: str | None = None, /) -> None:  # type: ignore[override]  # builds nothing
        if target == "xml-stylesheet":
            raise UnreadableError(
                "refers to something outside the drawing", "take the style sheet out", self._line()
            )

    def _line(self) -> str:
        return f"line {self.expat.CurrentLineNumber}"
