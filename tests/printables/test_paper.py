from itertools import combinations

import pytest

from models.geometry import Box
from printables.paper import A4, LETTER, MARGIN_MM, grid_on, sheets_of

PAPERS = pytest.mark.parametrize("paper", [A4, LETTER], ids=lambda paper: paper.name)


@PAPERS
def test_every_tag_lies_inside_the_margins(paper):
    inside = Box(MARGIN_MM, MARGIN_MM, paper.width_mm - 2 * MARGIN_MM, paper.height_mm - 2 * MARGIN_MM)
    assert all(inside.holds(cell) for cell in grid_on(paper).cells)


@PAPERS
def test_no_two_tags_share_paper(paper):
    cells = grid_on(paper).cells
    assert not any(one.shares_area_with(other) for one, other in combinations(cells, 2))


@PAPERS
def test_a_sheet_holds_twelve_tags(paper):
    assert len(grid_on(paper).cells) == 12


@PAPERS
def test_the_cut_lines_part_every_tag_from_the_next(paper):
    grid = grid_on(paper)
    edges = {edge for cell in grid.cells for edge in (cell.x, cell.right)}
    upright = {x for x, _, other_x, _ in grid.cut_lines if x == other_x}
    level = {y for _, y, _, other_y in grid.cut_lines if y == other_y}
    assert upright == edges
    assert level == {edge for cell in grid.cells for edge in (cell.y, cell.bottom)}


def test_tags_go_on_as_many_sheets_as_they_need_in_order():
    sheets = list(sheets_of(range(25), grid_on(A4)))
    assert [len(sheet) for sheet in sheets] == [12, 12, 1]
    assert [item for sheet in sheets for item, _ in sheet] == list(range(25))
