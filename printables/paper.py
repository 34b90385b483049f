"""Sheets of paper, and the grid of tags that is cut out of one [mm]."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TypeVar

from models.geometry import Box

Item = TypeVar("Item")
Line = tuple[float, float, float, float]  # from x, y to x, y

MARGIN_MM = 10.0  # office printers leave about 5 mm of each edge blank (common practice, no source)
TAG_WIDTH_MM = 93.0
TAG_HEIGHT_MM = 42.0


@dataclass(frozen=True, slots=True)
class Paper:
    name: str
    width_mm: float
    height_mm: float


A4 = Paper("A4", 210.0, 297.0)  # ISO 216
LETTER = Paper("Letter", 215.9, 279.4)  # ANSI/ASME Y14.1, size A: 8.5 by 11 inches
PAPERS = {paper.name.lower(): paper for paper in (A4, LETTER)}


@dataclass(frozen=True, slots=True)
class Grid:
    """Equal cells side by side, row by row, in the middle of the paper."""

    left_mm: float
    top_mm: float
    columns: int
    rows: int

    @property
    def cells(self) -> tuple[Box, ...]:
        return tuple(
            Box(
                self.left_mm + column * TAG_WIDTH_MM,
                self.top_mm + row * TAG_HEIGHT_MM,
                TAG_WIDTH_MM,
                TAG_HEIGHT_MM,
            )
            for row in range(self.rows)
            for column in range(self.columns)
        )

    @property
    def cut_lines(self) -> tuple[Line, ...]:
        """Where to cut, edges of the grid included: the upright ones first."""
        right_mm = self.left_mm + self.columns * TAG_WIDTH_MM
        bottom_mm = self.top_mm + self.rows * TAG_HEIGHT_MM
        xs = [self.left_mm + column * TAG_WIDTH_MM for column in range(self.columns + 1)]
        ys = [self.top_mm + row * TAG_HEIGHT_MM for row in range(self.rows + 1)]
        upright = [(x, self.top_mm, x, bottom_mm) for x in xs]
        return (*upright, *((self.left_mm, y, right_mm, y) for y in ys))


def grid_on(paper: Paper) -> Grid:
    """As many tags as the paper takes inside its margins."""
    columns = int((paper.width_mm - 2 * MARGIN_MM) // TAG_WIDTH_MM)
    rows = int((paper.height_mm - 2 * MARGIN_MM) // TAG_HEIGHT_MM)
    left_mm = (paper.width_mm - columns * TAG_WIDTH_MM) / 2
    top_mm = (paper.height_mm - rows * TAG_HEIGHT_MM) / 2
    return Grid(left_mm, top_mm, columns, rows)


def sheets_of(items: Sequence[Item], grid: Grid) -> Iterator[list[tuple[Item, Box]]]:
    """The items sheet by sheet, each with its cell."""
    cells = grid.cells
    for start in range(0, len(items), len(cells)):
        yield list(zip(items[start:], cells, strict=False))
