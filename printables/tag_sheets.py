"""Tags on sheets of paper: a PDF with a grid of tags and the lines to cut along."""

from collections.abc import Iterator, Sequence
from datetime import datetime
from itertools import groupby
from pathlib import Path

from fpdf import FPDF
from PIL.Image import Image
from pypdfium2 import PdfDocument

from models.geometry import Box
from models.tags.symbol import QUIET_ZONE_MODULES, Matrix
from printables.errors import NothingToPrintError
from printables.fonts import font_path
from printables.lettering import Chain
from printables.paper import TAG_HEIGHT_MM, TAG_WIDTH_MM, Grid, Paper, grid_on, sheets_of
from printables.progress import Progress, Steps
from printables.read_back import must_read_back
from printables.system_fonts import NO_FONTS, SystemFonts
from printables.tag import Tag
from printables.tag_layout import TagDrawing, TagLayout, draw_tag, fonts_for, lay_out_tag
from printables.whole_files import must_be_writable, write_whole

Sheet = list[tuple[Tag, Box]]  # each tag with its cell

POINTS_PER_MM = 72 / 25.4
READ_BACK_DPI = 300
SHEET_DOT_MM = 0.05  # modules are whole multiples of it, so that the file says them in short numbers
CUT_LINE_MM = 0.15
CUT_LINE_GREY = 150
FRAME_LINE_MM = 0.1
MODULE_OVERLAP_MM = 0.02  # rows of modules overlap by this, so that no viewer shows a seam between them


def write_tag_sheets(
    tags: Sequence[Tag],
    out: Path,
    paper: Paper,
    *,
    made_at: datetime,
    progress: Progress | None = None,
    fonts: SystemFonts = NO_FONTS,
) -> None:
    """Write a PDF with all tags, several to a sheet; every symbol has been read back from the rendered page.

    `fonts` draw the letters that the shipped ones lack. The same tags, paper, `made_at` and fonts give the
    same bytes. Each tag is one step of progress when it is drawn and one when it is read back.

    Raises:
        NothingToPrintError: there are no tags.
        SymbolNotReadBackError: a symbol is not what it should be; nothing was written.
        CannotWriteError: `out` can't be written.
    """
    if not tags:
        raise NothingToPrintError("there are no tags to print; load a batch that has garments")
    must_be_writable(out)
    grid = grid_on(paper)
    sheets = list(sheets_of(tags, grid))
    steps = Steps(2 * len(tags), progress)
    content = pdf_of(sheets, paper, grid, made_at, steps, more_fonts=fonts_for(tags, fonts))
    _read_back(content, sheets, steps)
    write_whole([(out, content)])


def pdf_of(
    sheets: list[Sheet], paper: Paper, grid: Grid, made_at: datetime, steps: Steps, *, more_fonts: Chain = ()
) -> bytes:
    pdf = FPDF(unit="mm", format=(paper.width_mm, paper.height_mm))
    pdf.set_auto_page_break(False)
    pdf.set_creation_date(made_at)
    layout = lay_out_tag(TAG_WIDTH_MM, TAG_HEIGHT_MM, SHEET_DOT_MM)
    for sheet in sheets:
        pdf.add_page()
        _draw_cut_lines(pdf, grid)
        for tag, cell in sheet:
            _draw_tag(pdf, draw_tag(tag, layout, more_fonts), cell, layout)
            steps.one_done()
    return bytes(pdf.output())


def _draw_cut_lines(pdf: FPDF, grid: Grid) -> None:
    pdf.set_line_width(CUT_LINE_MM)
    pdf.set_draw_color(CUT_LINE_GREY)
    for line in grid.cut_lines:
        pdf.line(*line)
    pdf.set_line_width(FRAME_LINE_MM)
    pdf.set_draw_color(0)


def _draw_tag(pdf: FPDF, drawing: TagDrawing, cell: Box, layout: TagLayout) -> None:
    quiet_mm = QUIET_ZONE_MODULES * layout.module_mm
    left_mm = cell.x + layout.symbol.x + quiet_mm
    top_mm = cell.y + layout.symbol.y + quiet_mm
    _draw_symbol(pdf, drawing.matrix, left_mm, top_mm, layout.module_mm)
    for lettering in drawing.letterings:
        for frame in lettering.frames:
            pdf.rect(cell.x + frame.x, cell.y + frame.y, frame.width, frame.height)
        for run in lettering.runs:
            _use_font(pdf, run.font, run.em_mm)
            pdf.text(cell.x + run.x_mm, cell.y + run.baseline_mm, run.text)


def _use_font(pdf: FPDF, font: str, em_mm: float) -> None:
    if font.lower() not in pdf.fonts:
        pdf.add_font(font, fname=font_path(font))
    pdf.set_font(font, size=em_mm * POINTS_PER_MM)


def _draw_symbol(pdf: FPDF, matrix: Matrix, left_mm: float, top_mm: float, module_mm: float) -> None:
    height_mm = module_mm + MODULE_OVERLAP_MM
    for row, modules in enumerate(matrix):
        for start, length in _dark_stretches(modules):
            x_mm = left_mm + start * module_mm
            pdf.rect(x_mm, top_mm + row * module_mm, length * module_mm, height_mm, style="F")


def _dark_stretches(modules: tuple[bool, ...]) -> Iterator[tuple[int, int]]:
    """Where each stretch of dark modules in a row starts, and how long it is."""
    place = 0
    for dark, stretch in groupby(modules):
        length = len(list(stretch))
        if dark:
            yield place, length
        place += length


def _read_back(content: bytes, sheets: list[Sheet], steps: Steps) -> None:
    with PdfDocument(content) as document:
        for page, sheet in zip(document, sheets, strict=True):
            picture = page.render(scale=READ_BACK_DPI / 72, grayscale=True).to_pil()
            for tag, cell in sheet:
                must_read_back(_cut_out(picture, cell), tag.code)
                steps.one_done()


def _cut_out(picture: Image, cell: Box) -> Image:
    dots_per_mm = READ_BACK_DPI / 25.4
    left, top, right, bottom = (
        round(edge * dots_per_mm) for edge in (cell.x, cell.y, cell.right, cell.bottom)
    )
    return picture.crop((left, top, right, bottom))
