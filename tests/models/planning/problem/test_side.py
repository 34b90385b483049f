"""The work on a side with some of its pieces alone is that of a side on which no others lie."""

import pytest

from models.planning.problem.side import only, side_of, side_work
from tests.random_jobs import random_job


@pytest.mark.parametrize("seed", range(6))
def test_some_pieces_of_a_side_are_worked_as_if_there_were_no_others(seed: int) -> None:
    job = random_job(seed, pieces=20)
    work = side_work(job, job.sides[0])
    every_other = range(0, len(work.pieces), 2)

    assert side_of(work, every_other) == side_work(only(work, every_other), work.side)


def test_the_pieces_of_some_parts_are_those_that_have_any_of_them() -> None:
    job = random_job(34, pieces=40, sides=3)
    work = side_work(job, job.sides[2])
    in_parts = next(p for p, parts in enumerate(work.parts_of_piece) if parts.bit_count() > 1)
    one_part = work.parts_of_piece[in_parts] & -work.parts_of_piece[in_parts]

    assert work.pieces_of(one_part) == 1 << in_parts
    assert work.pieces_of(work.every_part) == work.every_piece
