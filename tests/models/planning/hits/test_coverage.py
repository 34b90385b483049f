"""Parts of a piece, and what a hit touches and counts for."""

from dataclasses import replace

import pytest
from hypothesis import given

from models.geometry import Box
from models.job.job import Job, Pressure
from models.plan.plan import Hit
from models.planning.hits.coverage import counted_parts, parts_of, suits, touched_parts
from tests.pressed_garment import Garment
from tests.random_jobs import jobs
from tests.sample_jobs import PRESS, TWILL, box_piece, crew_vest_plan, job_of

FIRST_HIT = crew_vest_plan().hits[0]  # platen at (80, 70), 400 × 500 mm, 149 °C, medium
JUST_THE_PLATEN = Box(80, 70, 400, 500)


@pytest.mark.parametrize(
    ("width_mm", "height_mm", "columns", "rows"),
    [(400, 500, 1, 1), (400.5, 500, 2, 1), (400, 501, 1, 2), (801, 1001, 3, 3), (20, 20, 1, 1)],
)
def test_a_piece_is_worked_in_as_many_platens_as_it_takes(
    width_mm: float, height_mm: float, columns: int, rows: int
) -> None:
    parts = parts_of(box_piece("banner", TWILL, Box(10, 20, width_mm, height_mm)), (PRESS,))
    assert len(parts) == columns * rows
    assert {(part.width, part.height) for part in parts} == {(width_mm / columns, height_mm / rows)}


def test_parts_stand_row_by_row_and_cover_the_piece() -> None:
    parts = parts_of(box_piece("banner", TWILL, Box(0, 0, 600, 600)), (PRESS,))
    assert parts == (
        Box(0, 0, 300, 300),
        Box(300, 0, 300, 300),
        Box(0, 300, 300, 300),
        Box(300, 300, 300, 300),
    )


def test_what_a_turn_rounds_does_not_split_a_piece_of_the_platens_size() -> None:
    assert len(parts_of(box_piece("banner", TWILL, Box(0, 0, 400 + 6e-14, 500)), (PRESS,))) == 1


def job_with(box: Box) -> tuple[Job, Hit]:
    return job_of([box_piece("badge", TWILL, box)], [TWILL]), FIRST_HIT


def test_a_piece_of_just_the_platens_size_is_counted() -> None:
    job, hit = job_with(JUST_THE_PLATEN)
    assert counted_parts(hit, job.piece("badge"), job) == (True,)


def test_a_piece_that_stands_out_a_tenth_of_a_mm_is_touched_and_not_counted() -> None:
    job, hit = job_with(Box(79.9, 200, 50, 50))
    assert touched_parts(hit, job.piece("badge"), job) == (True,)
    assert counted_parts(hit, job.piece("badge"), job) == (False,)


def test_a_piece_at_the_platens_edge_is_not_touched() -> None:
    job, hit = job_with(Box(480, 200, 50, 50))
    assert touched_parts(hit, job.piece("badge"), job) == (False,)


def test_a_hit_on_another_side_neither_touches_nor_counts() -> None:
    job, hit = job_with(Box(200, 200, 50, 50))
    front = replace(hit, side="front")
    assert touched_parts(front, job.piece("badge"), job) == (False,)
    assert counted_parts(front, job.piece("badge"), job) == (False,)


@pytest.mark.parametrize(
    ("temperature_c", "pressure", "is_suited"),
    [
        (145, Pressure.MEDIUM, True),
        (155, Pressure.FIRM, True),
        (144, Pressure.MEDIUM, False),
        (156, Pressure.MEDIUM, False),
        (149, Pressure.LIGHT, False),
    ],
)
def test_a_setting_suits_inside_the_window_and_at_a_listed_pressure(
    temperature_c: float, pressure: Pressure, is_suited: bool
) -> None:
    hit = replace(FIRST_HIT, temperature_c=temperature_c, pressure=pressure)
    assert suits(hit, TWILL) is is_suited


@given(jobs())
def test_the_parts_of_random_pieces_are_those_worked_out_independently(job: Job) -> None:
    garment = Garment(job)
    for piece in job.pieces:
        parts = parts_of(piece, job.presses_for(piece))
        assert len(parts) == len(garment.parts[piece.id])
        for part, bounds in zip(parts, garment.parts[piece.id], strict=True):
            assert (part.x, part.y, part.right, part.bottom) == pytest.approx(bounds, abs=1e-9)
