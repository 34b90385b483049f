"""Every whole mm of a side's corner tried, beside the bands and spots in which the platen does the same."""

from dataclasses import replace
from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from models.geometry import Box
from models.job.job import Press
from models.planning.problem.bitset import bits_of
from models.planning.problem.platen_positions import Grid, Spot, grids
from tests.sample_jobs import PRESS

SMALL = replace(PRESS, platen_width_mm=12.0, platen_height_mm=9.0)
NARROW = replace(PRESS, platen_width_mm=5.5, platen_height_mm=16.0)
REACH = range(-20, 45)
"""From left of every box to right of it: nothing lies farther off than 24 mm."""

halves = st.integers(0, 32).map(lambda n: n / 2)
sizes = st.integers(1, 14).map(lambda n: n / 2)
boxes = st.builds(Box, halves, halves, sizes, sizes)
pieces = st.lists(boxes, min_size=1, max_size=4)
metal = st.lists(boxes, max_size=2)
few = settings(max_examples=25, deadline=None)


def what_it_does(x: int, y: int, press: Press, pieces: list[Box]) -> tuple[int, int]:
    """The boxes that the platen touches and those that it holds, with its corner there."""
    platen = Box(x, y, press.platen_width_mm, press.platen_height_mm)
    touched = bits_of(k for k, box in enumerate(pieces) if platen.shares_area_with(box))
    return touched, bits_of(k for k, box in enumerate(pieces) if platen.holds(box))


def tried_one_by_one(
    press: Press, pieces: list[Box], metal: list[Box]
) -> dict[tuple[int, int], tuple[int, int]]:
    """What the platen does at every corner where it holds something and lies on no metal."""
    done = {(x, y): what_it_does(x, y, press, pieces) for x, y in product(REACH, REACH)}
    return {at: sets for at, sets in done.items() if sets[1] and not what_it_does(*at, press, metal)[0]}


def corners_of(spot: Spot) -> list[tuple[int, int]]:
    across, down = spot.across, spot.down
    return list(product(range(across.first, across.last + 1), range(down.first, down.last + 1)))


def corners_in(grid: Grid) -> dict[tuple[int, int], tuple[int, int]]:
    return {corner: (spot.touched, spot.held) for spot in grid.spots() for corner in corners_of(spot)}


@given(pieces=pieces, metal=metal)
@few
def test_the_spots_are_all_the_places_of_each_platen_and_tell_what_it_does_there(
    pieces: list[Box], metal: list[Box]
) -> None:
    for grid, press in zip(grids(pieces, metal, (SMALL, NARROW)), (SMALL, NARROW), strict=True):
        assert corners_in(grid) == tried_one_by_one(press, pieces, metal)


@given(pieces=pieces, metal=metal)
@few
def test_for_every_place_there_is_one_that_may_be_worth_it_and_does_as_much(
    pieces: list[Box], metal: list[Box]
) -> None:
    (grid,) = grids(pieces, metal, (SMALL,))
    kept = list(grid.unbettered().spots())
    for spot in grid.spots():
        assert any(not (spot.held & ~other.held or other.touched & ~spot.touched) for other in kept)


@given(pieces=pieces, metal=metal)
@few
def test_the_places_that_hold_some_boxes_are_those_of_all_places_that_do(
    pieces: list[Box], metal: list[Box]
) -> None:
    (grid,) = grids(pieces, metal, (SMALL,))
    for wanted in range(1, 1 << len(pieces)):
        holding = [spot for spot in grid.spots() if not wanted & ~spot.held]
        assert list(grid.holding(wanted).spots()) == holding
