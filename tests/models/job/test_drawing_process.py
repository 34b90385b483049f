"""No drawing costs more than 2 s of computing and 512 MB, nor the app that asks for it."""

import math
import os
import resource
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from models.job.drawing_process import COUNTS_CPU, CPU_S, MEMORY_MB, DrawingProcess, DrawingRefusedError
from tests.job_files import only_fault_of, small_job, write_job

START_S = 2.0
"""Far more than starting a child takes of computing."""


def svg(inside: str) -> bytes:
    return f'<svg xmlns="http://www.w3.org/2000/svg">{inside}</svg>'.encode()


def ring(corners: int, turn: float) -> str:
    """A round polygon of radius 100, in whole numbers."""
    angles = [math.tau * n / corners + turn for n in range(corners)]
    return " ".join(f"{100 * math.cos(angle):.0f},{100 * math.sin(angle):.0f}" for angle in angles)


SQUARE = svg('<rect width="30" height="40"/>')
RINGS_OVER_EACH_OTHER = svg(f'<path d="{"".join(f"M{ring(40, n * 0.013)}z" for n in range(300))}"/>')
"""Each crosses all the others: about 6 s without a limit."""


@pytest.fixture
def process():
    made = DrawingProcess()
    yield made
    made.close()


def fault_in(process: DrawingProcess, content: bytes) -> str:
    with pytest.raises(DrawingRefusedError) as refused:
        process.area(content, 200)
    (fault,) = refused.value.faults
    return f"{fault.place}: {fault}"


def cpu_of_children_s() -> float:
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def child_that(does: str) -> tuple[str, ...]:
    return (sys.executable, "-c", does)


def test_a_drawing_is_read_as_it_is_drawn(process):
    assert process.area(SQUARE, 200).bounds == (0, 0, 30, 40)


def test_every_fault_of_a_drawing_comes_back_with_its_place(process):
    with pytest.raises(DrawingRefusedError) as refused:
        process.area(svg("<text/>\n<image/>"), 200)
    assert [(fault.place, fault.mend) for fault in refused.value.faults] == [
        ("line 1 <text>", "turn the text into paths"),
        ("line 2 <image>", "trace the picture to paths"),
    ]


@pytest.mark.skipif(not COUNTS_CPU, reason="seconds of computing are not counted on Windows")
def test_rings_that_all_cross_each_other_are_refused_after_two_seconds_of_computing(process):
    process.close()
    before_s = cpu_of_children_s()
    told = fault_in(process, RINGS_OVER_EACH_OTHER)
    assert told == (
        "the whole file: takes more than 2 s to work out; simplify it: fewer curves, points and crossings"
    )
    assert CPU_S - 0.5 < cpu_of_children_s() - before_s < CPU_S + START_S


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux keeps to the limit of memory")
def test_a_drawing_that_asks_for_too_much_memory_is_refused(process):
    greedy = child_that(
        "import sys, json; sys.path[:] = json.loads(sys.argv[1]);"
        "import models.job.drawing_child as c;"
        f"c.area_in = lambda *_: bytes({MEMORY_MB + 1} * 1024**2); c.main()"
    )
    told = fault_in(DrawingProcess((*greedy, process._command[-1])), SQUARE)
    assert told.startswith("the whole file: takes more than 512 MB to work out; simplify it")


def test_after_a_drawing_that_was_too_much_the_next_one_is_read(process):
    for _ in range(2):
        fault_in(process, RINGS_OVER_EACH_OTHER)
        assert process.area(SQUARE, 200).area == 1200


def test_a_reader_that_was_killed_meanwhile_is_replaced(process):
    process.area(SQUARE, 200)
    process._child.kill()
    process._child.wait()
    assert process.area(SQUARE, 200).area == 1200


@pytest.mark.parametrize(
    "does",
    [
        "raise SystemExit(1)",
        "import os; os.abort()",
        "input(); print('half', end='')",
        "import no_such_thing",
    ],
)
def test_a_reader_that_dies_refuses_the_drawing_and_never_the_app(does):
    told = fault_in(DrawingProcess(child_that(does)), SQUARE)
    assert told == "the whole file: cannot be worked out; simplify it, or save it again as plain SVG"


def test_a_reader_that_never_answers_is_ended_by_the_clock():
    told = fault_in(DrawingProcess(child_that("import time; time.sleep(600)"), wall_s=0.3), SQUARE)
    assert "takes more than 2 s" in told


def test_a_reader_that_cannot_be_started_is_told(tmp_path):
    told = fault_in(DrawingProcess((str(tmp_path / "no-such-program"),)), SQUARE)
    assert "its reader does not start; close other programs and try again" in told


def test_one_reader_serves_all_drawings_from_any_thread(process):
    process.area(SQUARE, 200)
    child = process._child
    drawings = [svg(f'<rect width="{n}" height="2"/>') for n in range(1, 41)]
    with ThreadPoolExecutor(8) as threads:
        areas = list(threads.map(lambda content: process.area(content, 200).area, drawings))
    assert areas == [2 * n for n in range(1, 41)]
    assert process._child is child


def test_the_reader_opens_no_window_and_loads_no_planner():
    loaded = child_that(
        "import json, sys; sys.path[:] = json.loads(sys.argv[1]); import models.job.drawing_child;"
        "sys.stderr.write(str(any(n.split('.')[0] in ('kivy', 'ortools', 'floorapp') for n in sys.modules)))"
    )
    import subprocess

    done = subprocess.run(
        [*loaded, DrawingProcess()._command[-1]],
        capture_output=True,
        text=True,
        check=True,
        env={**os.environ},
    )
    assert done.stderr == "False"


def test_a_job_with_such_a_drawing_is_refused_with_its_file_and_the_mend(tmp_path: Path):
    path = write_job(tmp_path, small_job())
    (tmp_path / "art" / "anchor.svg").write_bytes(RINGS_OVER_EACH_OTHER)
    assert str(only_fault_of(path)) == (
        "art/anchor.svg: the whole file: takes more than 2 s to work out; "
        "simplify it: fewer curves, points and crossings"
    )
