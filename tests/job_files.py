"""A small sound job file to change in one place or more, and what reading it tells.

The back of a lightship crew's vest: a foam anchor with a glitter light on it, and beside it a twill ring.
"""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from models.errors import Fault, JobRefusedError
from models.job.reader import read_job

Table = dict[str, Any]
Change = Callable[[Table], object]

ANCHOR = """<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 80">
  <path d="M 0 0 H 40 V 80 H 0 Z"/>
</svg>
"""


def twill() -> Table:
    return {
        "label": "Printed twill",
        "temperature": {"set": 149, "lowest": 145, "hottest": 155},
        "dwell": {"least": 20, "longest": 25, "total": 60},
        "finish": 0,
        "pressure": ["medium", "firm"],
        "peel": "none",
        "carrier": False,
        "carrier_margin": 0,
        "takes_on_top": "none",
        "guard": True,
        "cover": False,
        "carrier_safe": True,
        "thickness": 0.4,
    }


def foam() -> Table:
    return twill() | {
        "label": "Raised foam film",
        "dwell": {"least": 15, "longest": 25, "total": 60},
        "peel": "cold",
        "carrier": True,
        "carrier_margin": 6,
        "takes_on_top": ["glitter-film"],
    }


def glitter() -> Table:
    return foam() | {
        "label": "Glitter film",
        "temperature": {"set": 150, "lowest": 145, "hottest": 155},
        "dwell": {"least": 10, "longest": 15, "total": 45},
        "peel": "hot",
        "takes_on_top": "none",
    }


def small_job() -> Table:
    return {
        "format": 1,
        "job": {"name": "Lightship crew vests", "reference": "LC-0147", "due": "2026-12-11"},
        "press": {
            "platen": [400, 500],
            "temperature": [100, 220],
            "handling_s": 15,
            "heating_s_per_degree": 6,
            "cooling_s_per_degree": 20,
        },
        "fabric": {"name": "quilted polyamide", "hottest": 160, "grams_per_m2": 240, "thickness": 0.9},
        "sides": [
            {
                "name": "back",
                "size": [560, 700],
                "zones": [{"kind": "raised", "box": [0, 120, 560, 12], "label": "yoke seam"}],
            },
            {"name": "front", "size": [560, 700]},
        ],
        "materials": {"printed-twill": twill(), "raised-foam": foam(), "glitter-film": glitter()},
        "pieces": [
            piece("life-ring", "printed-twill", [150, 240], {"circle": 90}),
            piece("anchor-1", "raised-foam", [280, 240], {"svg": "art/anchor.svg", "width": 40}),
            piece("light", "glitter-film", [280, 240], {"box": [30, 30]}),
        ],
        "garments": {"sizes": {"S": 1, "M": 2}},
    }


def piece(piece_id: str, material: str, at: list[float], shape: Table, **more: Any) -> Table:
    return {"id": piece_id, "side": "back", "material": material, "at": at, "shape": shape, **more}


def write_job(folder: Path, table: Table, file: str = "vests.json") -> Path:
    """The job as JSON in `folder`, with the drawing it names."""
    (folder / "art").mkdir(exist_ok=True)
    (folder / "art" / "anchor.svg").write_text(ANCHOR, encoding="utf-8")
    path = folder / file
    path.write_text(json.dumps(table), encoding="utf-8")
    return path


def changed_job(folder: Path, *changes: Change) -> Path:
    """The small job with `changes` made to it, written to `folder`."""
    table = small_job()
    for change in changes:
        change(table)
    return write_job(folder, table)


def faults_of(path: Path) -> tuple[Fault, ...]:
    """The faults for which the file is refused."""
    with pytest.raises(JobRefusedError) as refused:
        read_job(path)
    return refused.value.faults


def only_fault_of(path: Path) -> Fault:
    (fault,) = faults_of(path)
    return fault
