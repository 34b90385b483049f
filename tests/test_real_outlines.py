"""Real outlines from file to plan: icons that nobody here drew are read, sized, placed by a seed and planned.

Their true sizes come from fontTools' reader of paths, the ink within them from a page that fpdf2 writes and
PDFium renders: neither shares anything with the reader that is tried.
"""

import json
import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import pypdfium2
import pytest
from fontTools.pens.boundsPen import BoundsPen
from fontTools.svgLib.path import SVGPath
from fpdf import FPDF
from fpdf.svg import SVGObject

from models.geometry import Box
from models.job.job import Job, Piece
from models.job.reader import read_job
from models.planning.search.solve_job import plan_hits
from tests.icon_package import NoIconsError, fetched_icons
from tests.job_files import Table, piece, small_job
from tests.pressed_garment import shape_of
from tests.rule_checker import broken_rules

PIECES = 20
JOBS = 11
EFFORT = 0.5
SIDE_MM = (560, 700)
GAP_MM = 1  # so near that carriers reach their neighbours
PIXELS_PER_UNIT = 10


@dataclass(frozen=True)
class Placed:
    """An icon on a side: what the job file asks for."""

    icon: Path
    side: str
    material: str
    width_mm: float
    turn: int
    box: Box

    def entry(self) -> Table:
        shape = {"svg": self.icon.name, "width": self.width_mm}
        at = list(self.box.centre)
        return piece(self.icon.stem, self.material, at, shape, turn=self.turn) | {"side": self.side}


@dataclass(frozen=True)
class IconJob:
    """The layout that was asked for, and the job that came of it."""

    layout: Sequence[Placed]
    job: Job

    def pieces(self) -> Iterator[tuple[Placed, Piece]]:
        return zip(self.layout, self.job.pieces, strict=True)


@pytest.fixture(scope="module")
def icons(tmp_path_factory: pytest.TempPathFactory) -> list[Path]:
    try:
        return fetched_icons(tmp_path_factory.mktemp("icons"))
    except NoIconsError as error:
        pytest.fail(str(error))


@pytest.fixture(scope="module")
def icon_jobs(icons: list[Path]) -> list[IconJob]:
    """Every job names other icons."""
    shuffled = random.Random(1).sample(icons, PIECES * JOBS)
    return [_icon_job(n, shuffled[n * PIECES : (n + 1) * PIECES]) for n in range(JOBS)]


def _icon_job(seed: int, icons: Sequence[Path]) -> IconJob:
    layout = _layout(random.Random(seed), icons)
    table = small_job() | {"pieces": [placed.entry() for placed in layout]}
    path = icons[0].parent / f"job-{seed}.json"
    path.write_text(json.dumps(table), encoding="utf-8")
    return IconJob(layout, read_job(path))


def _layout(dice: random.Random, icons: Sequence[Path]) -> list[Placed]:
    """Each icon at the first place drawn where its box lies clear of the others."""
    layout: list[Placed] = []
    for icon in icons:
        while True:
            placed = _thrown(dice, icon)
            if all(_are_clear(placed, other) for other in layout):
                layout.append(placed)
                break
    return layout


def _thrown(dice: random.Random, icon: Path) -> Placed:
    width_mm, turn = dice.randrange(300, 1100) / 10, dice.choice((0, 90, 180, 270))
    size = (width_mm, width_mm * _height_by_width(icon))
    width, height = size if turn in (0, 180) else size[::-1]
    x, y = (dice.uniform(0, most - length) for most, length in zip(SIDE_MM, (width, height), strict=True))
    material = dice.choice(("printed-twill", "raised-foam", "glitter-film"))
    return Placed(icon, dice.choice(("back", "front")), material, width_mm, turn, Box(x, y, width, height))


def _are_clear(one: Placed, other: Placed) -> bool:
    a, b = one.box, other.box
    apart_mm = max(a.x - b.right, b.x - a.right, a.y - b.bottom, b.y - a.bottom)
    return one.side != other.side or apart_mm >= GAP_MM


def _height_by_width(icon: Path) -> float:
    left, top, right, bottom = _bounds(icon)
    return (bottom - top) / (right - left)


def _units_across(icon: Path) -> float:
    left, _, right, _ = _bounds(icon)
    return right - left


def _bounds(icon: Path) -> tuple[float, float, float, float]:
    """Left, top, right, bottom in the drawing's own units."""
    pen = BoundsPen(None)
    SVGPath(str(icon)).draw(pen)
    return pen.bounds


def _ink(icons: Sequence[Path]) -> list[float]:
    """The inked area of each drawing, in square units of its own, as PDFium renders it."""
    paper = FPDF(unit="pt", format=(24, 24))
    paper.set_margin(0)
    paper.set_auto_page_break(False)
    for icon in icons:
        paper.add_page()
        SVGObject(icon.read_text(encoding="utf-8")).draw_to_page(paper, 0, 0)
    pages = pypdfium2.PdfDocument(bytes(paper.output()))
    return [_darkness(page) / PIXELS_PER_UNIT**2 for page in pages]


def _darkness(page: pypdfium2.PdfPage) -> float:
    """How many pixels would be black."""
    pixels = page.render(scale=PIXELS_PER_UNIT, grayscale=True).to_numpy()
    return float((255.0 - pixels).sum() / 255)


def test_there_are_at_least_200_of_them(icon_jobs: list[IconJob]) -> None:
    assert len({placed.icon for made in icon_jobs for placed in made.layout}) >= 200


def test_each_is_as_wide_as_asked_for_to_a_hundredth_of_a_mm(icon_jobs: list[IconJob]) -> None:
    for placed, made in (pair for icon_job in icon_jobs for pair in icon_job.pieces()):
        is_upright = placed.turn in (0, 180)
        width_mm = made.box.width if is_upright else made.box.height
        assert width_mm == pytest.approx(placed.width_mm, abs=0.01), placed.icon.name


def test_each_keeps_its_proportion_and_lies_where_it_was_placed(icon_jobs: list[IconJob]) -> None:
    for placed, made in (pair for icon_job in icon_jobs for pair in icon_job.pieces()):
        edges = (made.box.x, made.box.y, made.box.right, made.box.bottom)
        wanted = (placed.box.x, placed.box.y, placed.box.right, placed.box.bottom)
        assert edges == pytest.approx(wanted, abs=0.1), placed.icon.name  # chords run up to 0.05 mm inside


def test_each_outline_encloses_what_a_renderer_inks(icon_jobs: list[IconJob]) -> None:
    pieces = [pair for icon_job in icon_jobs for pair in icon_job.pieces()]
    inked = _ink([placed.icon for placed, _ in pieces])
    for (placed, made), units2 in zip(pieces, inked, strict=True):
        mm_per_unit = placed.width_mm / _units_across(placed.icon)
        assert shape_of(made).area == pytest.approx(units2 * mm_per_unit**2, rel=0.01), placed.icon.name


@pytest.mark.parametrize("number", range(JOBS))
def test_a_job_of_them_is_planned_by_every_rule(icon_jobs: list[IconJob], number: int) -> None:
    job = icon_jobs[number].job
    assert broken_rules(job, plan_hits(job, effort=EFFORT)) == []


def test_a_package_that_cannot_be_had_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tests.icon_package.PACKAGE", f"file:{tmp_path}/no-such-package.tgz")
    with pytest.raises(NoIconsError, match="cannot be had from the package registry; npm says"):
        fetched_icons(tmp_path)
