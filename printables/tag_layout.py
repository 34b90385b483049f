"""Where everything stands on one tag, in mm from its upper left corner: the symbol left, words beside it."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from models.geometry import Box
from models.tags.code import spoken
from models.tags.symbol import FULL_MODULES, Matrix, symbol_of
from printables.fitting import LEADING, Align, TextBox, letter
from printables.lettering import BOLD, CODE, REGULAR, Chain, missing_letters
from printables.placed import Lettering
from printables.system_fonts import SystemFonts
from printables.tag import Tag

EDGE_MM = 1.0  # nothing is printed nearer to the tag's edge
COLUMN_GAP_MM = 0.5
WORDS_GAP_MM = 1.5  # between two texts side by side, so that they are not read as one
MOST_SYMBOL_OF_WIDTH = 0.45  # so that the words keep half of the tag
CODE_WIDTH_EM = 6.7  # the width of the symbol; eight monospaced characters and a blank are 5.85 ems wide
LEAST_MODULE_MM = (
    0.33  # below it a hand-held camera no longer tells modules apart (common practice, no source)
)
LEAST_TEXT_MM = 1.9  # about 5.4 points

# Shares of the height, from the top: size and count, wearer and number, batch, hits.
ROWS = (0.24, 0.22, 0.15, 0.39)
LEFT_SHARE = 0.65  # the share of the column's width that size has beside count, and wearer beside number


@dataclass(frozen=True, slots=True)
class TagLayout:
    """The boxes of one tag. `symbol` includes the quiet zone."""

    width_mm: float
    height_mm: float
    module_mm: float
    symbol: Box
    code: TextBox
    size: TextBox
    count: TextBox
    wearer: TextBox
    number: TextBox
    batch: TextBox
    hits: TextBox

    @property
    def text_boxes(self) -> tuple[TextBox, ...]:
        return (self.code, self.size, self.count, self.wearer, self.number, self.batch, self.hits)

    @property
    def is_readable(self) -> bool:
        """Whether a camera can read the symbol and a person every row of words."""
        rows_mm = [text_box.box.height for text_box in self.text_boxes]
        return self.module_mm >= LEAST_MODULE_MM and min(rows_mm) >= LEAST_TEXT_MM * LEADING


@dataclass(frozen=True, slots=True)
class TagDrawing:
    """What is drawn of one tag, measured from its upper left corner."""

    matrix: Matrix
    letterings: tuple[Lettering, ...]


def lay_out_tag(width_mm: float, height_mm: float, dot_mm: float) -> TagLayout:
    """The layout for a tag of this size; a module of the symbol is a whole number of dots."""
    module_mm = _module_mm(width_mm, height_mm, dot_mm)
    symbol = Box(EDGE_MM, EDGE_MM, module_mm * FULL_MODULES, module_mm * FULL_MODULES)
    code = Box(EDGE_MM, symbol.bottom, symbol.width, height_mm - EDGE_MM - symbol.bottom)
    code_em_mm = symbol.width / CODE_WIDTH_EM
    left_mm = symbol.right + COLUMN_GAP_MM
    column = Box(left_mm, EDGE_MM, width_mm - EDGE_MM - left_mm, height_mm - 2 * EDGE_MM)
    top, middle, batch, hits = _rows(column)
    return TagLayout(
        width_mm=width_mm,
        height_mm=height_mm,
        module_mm=module_mm,
        symbol=symbol,
        code=TextBox(code, code_em_mm, code_em_mm, CODE, Align.CENTRE),
        size=_words(_left_part(top), BOLD),
        count=_words(_right_part(top), BOLD, share=0.6, align=Align.RIGHT),
        wearer=_words(_left_part(middle), BOLD, share=0.8),
        number=_words(_right_part(middle), BOLD, share=0.8, align=Align.RIGHT),
        batch=_words(batch, REGULAR, share=0.8),
        hits=_words(hits, REGULAR, share=0.4),
    )


def draw_tag(tag: Tag, layout: TagLayout, more_fonts: Chain = ()) -> TagDrawing:
    """The tag's symbol and words, placed; `more_fonts` draw what the shipped ones lack."""
    boxes = (replace(box, chain=box.chain + more_fonts) for box in layout.text_boxes)
    words = zip(words_on(tag), boxes, strict=True)
    return TagDrawing(symbol_of(tag.code), tuple(letter(text, text_box) for text, text_box in words))


def words_on(tag: Tag) -> tuple[str, ...]:
    """What the tag says, in the order of the layout's text boxes."""
    return (
        spoken(tag.code),
        tag.size,
        f"{tag.n} of {tag.of}",
        tag.wearer,
        f"No {tag.number}" if tag.number else "",
        f"{tag.batch_reference} {tag.batch_name}",
        tag.hits_line,
    )


def fonts_for(tags: Iterable[Tag], fonts: SystemFonts) -> Chain:
    """Return the fonts of the computer that have letters of these tags which the shipped ones lack."""
    letters = (missing_letters(text) for tag in tags for text in words_on(tag))
    return fonts.search(frozenset().union(*letters))


def _module_mm(width_mm: float, height_mm: float, dot_mm: float) -> float:
    """The largest whole number of dots that leaves room for the code below the symbol and words beside it."""
    under_height_mm = (height_mm - 2 * EDGE_MM) / (1 + LEADING / CODE_WIDTH_EM)
    side_mm = min(under_height_mm, MOST_SYMBOL_OF_WIDTH * width_mm)
    return int(side_mm / FULL_MODULES / dot_mm + 1e-9) * dot_mm


def _rows(column: Box) -> list[Box]:
    tops = [column.y + column.height * sum(ROWS[:row]) for row in range(len(ROWS))]
    return [
        Box(column.x, top, column.width, column.height * share) for top, share in zip(tops, ROWS, strict=True)
    ]


def _left_part(row: Box) -> Box:
    return Box(row.x, row.y, row.width * LEFT_SHARE - WORDS_GAP_MM, row.height)


def _right_part(row: Box) -> Box:
    return Box(row.x + row.width * LEFT_SHARE, row.y, row.width * (1 - LEFT_SHARE), row.height)


def _words(box: Box, chain: Chain, share: float = 1.0, align: Align = Align.LEFT) -> TextBox:
    """A text box whose line takes this share of its height at first."""
    return TextBox(box, box.height * share / LEADING, LEAST_TEXT_MM, chain, align)
