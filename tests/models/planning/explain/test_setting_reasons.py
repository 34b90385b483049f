"""What is said to bound a hit's temperature, of extra hits too, is what bounds it."""

import pytest

from models.geometry import Box
from models.plan.plan import Hit
from models.planning.hits.piece_record import after_hit, untouched
from models.planning.rework.incident import Trouble
from models.planning.rework.plan_rework import plan_extra_hits
from models.planning.search.solve_job import plan_hits
from tests.random_jobs import random_job
from tests.sample_jobs import TWILL, box_piece, job_of


def told_window(hit: Hit) -> tuple[float, float]:
    """The lowest and the hottest that the sentence speaks of."""
    (told,) = [line for line in hit.why if line.startswith(f"{hit.temperature_c:g} °C: ")]
    numbers = [float(word) for word in told.replace(".", "").split() if word.isdigit()]
    return numbers[1], numbers[2]


@pytest.mark.parametrize("seed", range(8))
def test_no_hit_is_set_outside_the_window_that_it_tells(seed: int) -> None:
    job = random_job(seed, pieces=6)
    for hit in plan_hits(job, effort=1).hits:
        lowest_c, hottest_c = told_window(hit)
        assert lowest_c <= hit.temperature_c <= hottest_c


@pytest.mark.parametrize("seed", range(8))
def test_the_told_window_is_that_of_the_pieces_the_fabric_and_the_press(seed: int) -> None:
    """Worked out anew from the lists of the hit: what counts in it, and all that is touched at least."""
    job = random_job(seed, pieces=6)
    for hit in plan_hits(job, effort=1).hits:
        counted = [job.material_of(piece) for piece in hit.count]
        lowest_c, hottest_c = told_window(hit)
        assert lowest_c == max(job.press.lowest_c, *(m.lowest_c for m in counted))
        bears_c = [job.material_of(piece).hottest_c for piece in (*hit.count, *hit.touch_again)]
        assert hottest_c <= min(job.fabric.hottest_c, job.press.hottest_c, *bears_c)


def test_an_extra_hit_tells_what_bounds_its_temperature() -> None:
    job = job_of([box_piece("sun", TWILL, Box(200, 300, 100, 60))], [TWILL])
    (first,) = plan_hits(job).hits
    records = after_hit(untouched(job), job, first, first.dwell_s)
    mending = plan_extra_hits(job, records, (), (), Trouble(lifted_s={"sun": 20}))
    assert "149 °C: Printed twill wants at least 145 °C and bears 155 °C." in mending.hits[0].why
