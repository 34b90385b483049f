"""Outlines that nobody here drew: icons of an open package are read, sized, placed, planned and judged.

The package is fetched by its name from the npm registry that this machine is set to; nothing of it is kept.
"""

import os
import random
import shutil
import subprocess
import tarfile
from pathlib import Path

import pytest

from models.job.job import Job
from models.job.reader import read_job
from models.job.svg_area import area_in
from models.planning.planner import plan_hits
from tests.job_files import Table, foam, small_job, twill, write_job
from tests.rule_checker import broken_rules

PACKAGE = "bootstrap-icons@1.11.3"
"""2,051 icons by The Bootstrap Authors, MIT licence."""

JOBS, PIECES = 11, 20
CELL_MM, COLUMNS, WIDEST_MM = 80, 5, 60
EFFORT = 0.2


@pytest.fixture(scope="session")
def icons(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder with the package's drawings."""
    npm = shutil.which("npm")
    assert npm, "npm is missing, so the icons cannot be fetched: install it, or start README's test command"
    folder = tmp_path_factory.mktemp("icons")
    trusted = {"NODE_EXTRA_CA_CERTS": os.environ["SSL_CERT_FILE"]} if "SSL_CERT_FILE" in os.environ else {}
    fetched = subprocess.run(
        [npm, "pack", "--silent", PACKAGE],
        cwd=folder,
        env={**trusted, **os.environ},
        capture_output=True,
        text=True,
        check=False,
    )
    assert fetched.returncode == 0, f"{PACKAGE} cannot be fetched: {fetched.stderr.strip()[-300:]}"
    with tarfile.open(next(folder.glob("*.tgz"))) as packed:
        packed.extractall(folder, filter="data")
    return folder / "package" / "icons"


def drawn_job(folder: Path, icons: Path, seed: int) -> tuple[Job, dict[str, float]]:
    """A job of icons of many sizes, one to a cell of the back, and the width that each was given."""
    dice = random.Random(seed)
    drawings = dice.sample(sorted(icons.glob("*.svg")), 2 * PIECES)
    chosen = [drawing for drawing in drawings if _fits_its_cell(drawing)][:PIECES]
    widths = {drawing.stem: float(dice.randint(20, WIDEST_MM)) for drawing in chosen}
    for drawing in chosen:
        shutil.copy(drawing, folder)
    pieces = [
        _piece(drawing.stem, n, widths[drawing.stem], dice.choice(("printed-twill", "raised-foam")))
        for n, drawing in enumerate(chosen)
    ]
    job = small_job()
    job["sides"] = [{"name": "back", "size": [CELL_MM * COLUMNS, CELL_MM * (PIECES // COLUMNS)]}]
    job["materials"] = {"printed-twill": twill(), "raised-foam": foam()}
    job["materials"]["raised-foam"]["takes_on_top"] = "none"
    job["pieces"] = pieces
    return read_job(write_job(folder, job)), widths


def _fits_its_cell(drawing: Path) -> bool:
    """Whether it is no taller than its cell at the greatest width."""
    left, top, right, bottom = area_in(drawing.read_bytes(), WIDEST_MM).bounds
    return (bottom - top) / (right - left) * WIDEST_MM < CELL_MM


def _piece(name: str, n: int, width_mm: float, material: str) -> Table:
    row, column = divmod(n, COLUMNS)
    at = [CELL_MM * (column + 0.5), CELL_MM * (row + 0.5)]
    shape = {"svg": f"{name}.svg", "width": width_mm}
    return {"id": name, "side": "back", "material": material, "at": at, "shape": shape}


@pytest.mark.parametrize("seed", range(JOBS))
def test_icons_are_read_at_their_width_and_planned_by_every_rule(
    tmp_path: Path, icons: Path, seed: int
) -> None:
    job, widths = drawn_job(tmp_path, icons, seed)
    plan = plan_hits(job, effort=EFFORT)

    assert len(job.pieces) == PIECES
    for piece in job.pieces:
        assert piece.box.width == pytest.approx(widths[piece.id], abs=0.01)
        assert piece.outline.polygons
    assert broken_rules(job, plan) == []


def test_at_least_two_hundred_icons_are_tried() -> None:
    assert JOBS * PIECES >= 200
