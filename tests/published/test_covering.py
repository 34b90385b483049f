"""The fewest hits against known answers of covering points, and a rectangle, with equal boxes.

Pieces of 1 mm stand for points and the platen for the covering square: scaled by 100, and 1 mm larger,
it holds exactly the pieces whose points a unit square covers.

Covering points with equal boxes is hard in general (Fowler, Paterson and Tanimoto, Optimal packing and
covering in the plane are NP-complete, Information Processing Letters 12, 1981; from memory), so these
are small sets: grids and a cross, worked out by hand, nine points found by a search, for which always
taking the square that covers most takes one too many, and scattered ones. An exact set cover by SciPy's
HiGHS, over the squares with an edge on a point's x and one on a point's y, says the fewest again. On a
line, beginning at the leftmost uncovered point each time is exact: Cormen et al., Introduction to
Algorithms, exercise 16.2-5, from memory. A full rectangle W by H takes ceil(W/a) * ceil(H/b) boxes a by
b: the points of a grid spaced just over a by b need one each.
"""

import math
import random
from collections.abc import Sequence
from dataclasses import replace
from itertools import product

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp

from models.geometry import Box, Point
from models.job.job import Job
from models.plan.plan import PlanStatus
from models.planning.search.solve_job import plan_hits
from tests.rule_checker import broken_rules
from tests.sample_jobs import BACK, PRESS, TWILL, box_piece, job_of

POINT = replace(TWILL, least_s=5, longest_s=30, total_s=3000)
SQUARE = replace(PRESS, platen_width_mm=101, platen_height_mm=101)
PLAIN = replace(BACK, zones=())

CORNERS = [(x, y) for x in (0, 1.5) for y in (0, 1.5)]
PLUS = [(0, 0), (0.9, 0), (-0.9, 0), (0, 0.9), (0, -0.9)]
GREEDY_GAP = [
    (1.1, 1.9),
    (1.4, 0.4),
    (1.8, 1.5),
    (1.8, 0.4),
    (1.2, 0.5),
    (2.0, 0.4),
    (0.9, 0.7),
    (1.9, 0.7),
    (0.6, 0.5),
]
ON_A_LINE = [(x, 0) for x in (0, 0.4, 0.9, 1.1, 2, 2.05, 3.2)]


def grid(count: int, step: float) -> list[Point]:
    return [(x * step, y * step) for x in range(count) for y in range(count)]


def scattered(seed: int) -> list[Point]:
    dice = random.Random(seed)
    places = [(x / 10, y / 10) for x in range(31) for y in range(31)]
    return dice.sample(places, 14)


def squares_over(points: Sequence[Point]) -> list[set[int]]:
    """The points in each unit square that has its left and its upper edge on a point."""
    corners = product({x for x, _ in points}, {y for _, y in points})
    return [
        {n for n, (x, y) in enumerate(points) if _within_one(x - left) and _within_one(y - top)}
        for left, top in corners
    ]


def _within_one(distance: float) -> bool:
    return -1e-9 <= distance <= 1 + 1e-9


def exact_cover(points: Sequence[Point]) -> int:
    squares = squares_over(points)
    covers = np.array([[n in square for square in squares] for n in range(len(points))], dtype=float)
    one = np.ones(len(squares))
    every_point = LinearConstraint(covers, lb=1)
    return round(milp(one, constraints=every_point, integrality=one, bounds=Bounds(0, 1)).fun)


def greedy_cover(points: Sequence[Point]) -> int:
    """Always the square that covers most of what is left."""
    left, taken = set(range(len(points))), 0
    while left:
        left -= max(squares_over(points), key=lambda square: len(square & left))
        taken += 1
    return taken


def job_of_points(points: Sequence[Point]) -> Job:
    pieces = [
        box_piece(f"point-{n}", POINT, Box(100 + round(100 * x), 100 + round(100 * y), 1, 1))
        for n, (x, y) in enumerate(points, start=1)
    ]
    return job_of(pieces, (POINT,), press=SQUARE, sides=(PLAIN,))


@pytest.mark.parametrize(
    ("points", "squares"),
    [
        pytest.param(CORNERS, 4, id="corners 1.5 apart"),
        pytest.param([(x, y) for x in (0, 1) for y in (0, 1)], 1, id="corners 1 apart"),
        pytest.param(grid(3, 0.5), 1, id="3 by 3, step 0.5"),
        pytest.param(grid(3, 0.6), 4, id="3 by 3, step 0.6"),
        pytest.param(grid(3, 1.1), 9, id="3 by 3, step 1.1"),
        pytest.param(grid(5, 0.5), 4, id="5 by 5, step 0.5"),
        pytest.param(PLUS, 2, id="plus of 0.9"),
        pytest.param(ON_A_LINE, 3, id="on a line: the greedy choice from the left is exact"),
        pytest.param(GREEDY_GAP, 3, id="nine points for which the greedy choice takes 4"),
    ],
)
def test_points_take_as_many_hits_as_squares_cover_them(points, squares):
    job = job_of_points(points)

    plan = plan_hits(job)

    assert (len(plan.hits), plan.status) == (squares, PlanStatus.OPTIMAL)
    assert broken_rules(job, plan) == []


@pytest.mark.parametrize("seed", range(8))
def test_scattered_points_take_as_many_hits_as_the_exact_cover_has_squares(seed):
    points = scattered(seed)
    job = job_of_points(points)

    plan = plan_hits(job)

    assert (len(plan.hits), plan.status) == (exact_cover(points), PlanStatus.OPTIMAL)
    assert broken_rules(job, plan) == []


@pytest.mark.parametrize(
    ("points", "squares"), [(CORNERS, 4), (PLUS, 2), (grid(5, 0.5), 4), (ON_A_LINE, 3), (GREEDY_GAP, 3)]
)
def test_the_exact_cover_finds_the_known_answers(points, squares):
    assert exact_cover(points) == squares


def test_always_taking_the_square_that_covers_most_takes_one_too_many_for_the_nine_points():
    assert (greedy_cover(GREEDY_GAP), exact_cover(GREEDY_GAP)) == (4, 3)


@pytest.mark.parametrize(
    ("width_mm", "height_mm", "platen", "hits"),
    [
        (380, 480, (400, 500), 1),
        (410, 480, (400, 500), 2),
        (900, 700, (400, 500), 6),
        (760, 300, (380, 380), 2),
    ],
)
def test_a_full_rectangle_takes_a_hit_for_each_platen_that_tiles_it(width_mm, height_mm, platen, hits):
    press = replace(PRESS, platen_width_mm=platen[0], platen_height_mm=platen[1])
    piece = box_piece("banner", POINT, Box(20, 30, width_mm, height_mm))
    job = job_of([piece], (POINT,), press=press, sides=(PLAIN,))

    plan = plan_hits(job)

    assert hits == math.ceil(width_mm / platen[0]) * math.ceil(height_mm / platen[1])
    assert (len(plan.hits), plan.status) == (hits, PlanStatus.OPTIMAL)
    assert broken_rules(job, plan) == []
