"""Tags on labels: one black and white PNG a tag, dot for dot as the label printer prints it."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from io import BytesIO
from pathlib import Path

from PIL import Image, ImageDraw, ImageFont
from PIL.Image import Resampling

from models.tags.symbol import QUIET_ZONE_MODULES, Matrix
from printables.errors import LabelSizeError, NothingToPrintError
from printables.fonts import font_path
from printables.lettering import Chain, advance_em, clusters_of
from printables.placed import Lettering
from printables.progress import Progress, Steps
from printables.read_back import must_read_back
from printables.system_fonts import NO_FONTS, SystemFonts
from printables.tag import Tag
from printables.tag_layout import LEAST_MODULE_MM, TagLayout, draw_tag, fonts_for, lay_out_tag
from printables.whole_files import must_be_writable, write_whole

MM_PER_INCH = 25.4
LEAST_MODULE_DOTS = 3  # a heated dot is never quite square; below three, modules run into one another
MOST_MM = 300.0
WHITE = 1
BLACK = 0


@dataclass(frozen=True, slots=True)
class LabelSize:
    width_mm: float
    height_mm: float

    def __str__(self) -> str:
        return f"{self.width_mm:g}x{self.height_mm:g}"


SMALL_LABEL = LabelSize(50, 25)
LARGE_LABEL = LabelSize(62, 29)


def label_size(text: str) -> LabelSize:
    """The size named like "50x25" or "62 × 29 mm": width, then height.

    Raises:
        LabelSizeError: the text is no size.
    """
    found = re.fullmatch(r"\s*(\d{1,3}(?:\.\d+)?)\s*[x×X]\s*(\d{1,3}(?:\.\d+)?)\s*(?:mm)?\s*", text)
    if found is None:
        raise LabelSizeError(f"“{text}” is no label size; write width x height in mm, like {SMALL_LABEL}")
    return LabelSize(float(found[1]), float(found[2]))


def write_tag_labels(
    tags: Sequence[Tag],
    folder: Path,
    size: LabelSize,
    dpi: int,
    *,
    progress: Progress | None = None,
    fonts: SystemFonts = NO_FONTS,
) -> tuple[Path, ...]:
    """Write a PNG for each tag, named by its number in the batch and its code; each has been read back.

    `fonts` draw the letters that the shipped ones lack. Each tag is one step of progress when it is drawn and
    one when it is read back.

    Raises:
        NothingToPrintError: there are no tags.
        LabelSizeError: the label is too small for a symbol that a scanner reads, or for the words.
        SymbolNotReadBackError: a symbol is not what it should be; nothing was written.
        CannotWriteError: the folder can't be made or written.
    """
    if not tags:
        raise NothingToPrintError("there are no tags to print; load a batch that has garments")
    layout = label_layout(size, dpi)
    must_be_writable(folder / _file_name(tags[0]))
    steps, more_fonts = Steps(2 * len(tags), progress), fonts_for(tags, fonts)
    pictures = ((tag, picture_of(tag, layout, dpi, more_fonts)) for tag in tags)
    files = [(folder / _file_name(tag), _png_of(tag, picture, dpi, steps)) for tag, picture in pictures]
    write_whole(files)
    return tuple(path for path, _ in files)


def label_layout(size: LabelSize, dpi: int) -> TagLayout:
    """The layout of a label, its modules whole printer dots.

    Raises:
        LabelSizeError: too small to be read, or larger than any label.
    """
    if not dpi > 0 or not all(0 < side_mm <= MOST_MM for side_mm in (size.width_mm, size.height_mm)):
        raise LabelSizeError(
            f"{size} mm at {dpi} dpi is no label; at most {MOST_MM:g} mm, like {SMALL_LABEL} at 203"
        )
    dot_mm = MM_PER_INCH / dpi
    layout = lay_out_tag(size.width_mm, size.height_mm, dot_mm)
    if not layout.is_readable or round(layout.module_mm / dot_mm) < LEAST_MODULE_DOTS:
        raise LabelSizeError(
            f"a {size} mm label at {dpi} dpi is too small: its symbol needs modules of {LEAST_MODULE_MM} mm "
            f"and {LEAST_MODULE_DOTS} dots, its words lines of 2.4 mm; take a larger one, like {SMALL_LABEL}"
        )
    return layout


def _file_name(tag: Tag) -> str:
    return f"{tag.n:0{len(str(tag.of))}}-{tag.code}.png"


def _png_of(tag: Tag, picture: Image.Image, dpi: int, steps: Steps) -> bytes:
    steps.one_done()
    must_read_back(picture.convert("L"), tag.code)
    steps.one_done()
    file = BytesIO()
    picture.save(file, format="PNG", dpi=(dpi, dpi), optimize=True)
    return file.getvalue()


def picture_of(tag: Tag, layout: TagLayout, dpi: int, more_fonts: Chain = ()) -> Image.Image:
    dots_per_mm = dpi / MM_PER_INCH
    drawing = draw_tag(tag, layout, more_fonts)
    picture = Image.new(
        "1", (round(layout.width_mm * dots_per_mm), round(layout.height_mm * dots_per_mm)), WHITE
    )
    _paste_symbol(picture, drawing.matrix, layout, dots_per_mm)
    pen = ImageDraw.Draw(picture)
    for lettering in drawing.letterings:
        _draw_lettering(pen, lettering, dots_per_mm)
    return picture


def _paste_symbol(picture: Image.Image, matrix: Matrix, layout: TagLayout, dots_per_mm: float) -> None:
    module_dots = round(layout.module_mm * dots_per_mm)
    symbol = Image.new("1", (len(matrix), len(matrix)))
    symbol.putdata([WHITE - dark for row in matrix for dark in row])
    quiet_dots = QUIET_ZONE_MODULES * module_dots
    corner = (
        round(layout.symbol.x * dots_per_mm) + quiet_dots,
        round(layout.symbol.y * dots_per_mm) + quiet_dots,
    )
    side_dots = len(matrix) * module_dots
    picture.paste(symbol.resize((side_dots, side_dots), Resampling.NEAREST), corner)


def _draw_lettering(pen: ImageDraw.ImageDraw, lettering: Lettering, dots_per_mm: float) -> None:
    for frame in lettering.frames:
        edges = (frame.x, frame.y, frame.right, frame.bottom)
        pen.rectangle([round(edge * dots_per_mm) for edge in edges], outline=BLACK)
    for run in lettering.runs:
        font = _font(run.font, round(run.em_mm * dots_per_mm))
        x_mm = run.x_mm
        for cluster in clusters_of(run.text):  # one by one: whole words would grow with every rounded advance
            pen.text(
                (round(x_mm * dots_per_mm), round(run.baseline_mm * dots_per_mm)), cluster, BLACK, font, "ls"
            )
            x_mm += run.em_mm * sum(advance_em(run.font, character) for character in cluster)


@lru_cache(maxsize=256)
def _font(name: str, size_dots: int) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(font_path(name), size_dots, layout_engine=ImageFont.Layout.BASIC)
