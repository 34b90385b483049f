"""Which piece is stacked on which, and where its carrier reaches."""

import math

import pytest

from models.geometry import Box, Outline, Polygon
from models.job.job import Piece
from models.job.outlines import from_shapely
from models.job.stacking import carrier_of, stacked_pairs
from tests.sample_jobs import FOAM, GLITTER, TWILL, box_piece, crew_vest_job, job_of, ring_of


def pairs(*pieces: Piece) -> tuple[tuple[str, str], ...]:
    return stacked_pairs(job_of(pieces, (TWILL, FOAM, GLITTER)))


BASE = box_piece("base", FOAM, Box(0, 0, 50, 50))


def test_the_later_piece_in_the_file_is_the_upper_one():
    top = box_piece("top", GLITTER, Box(10, 10, 5, 5))
    assert pairs(BASE, top) == (("top", "base"),)
    assert pairs(top, BASE) == (("base", "top"),)


def test_each_piece_is_stacked_on_every_earlier_one_that_it_covers():
    middle = box_piece("middle", FOAM, Box(20, 20, 50, 50))
    top = box_piece("top", GLITTER, Box(40, 40, 5, 5))
    assert pairs(BASE, middle, top) == (("middle", "base"), ("top", "base"), ("top", "middle"))


@pytest.mark.parametrize(("overlap_mm", "stacked"), [(0.0, False), (1.0, False), (1.01, True)])
def test_more_than_one_square_mm_in_common_is_stacked(overlap_mm, stacked):
    beside = box_piece("beside", GLITTER, Box(50 - overlap_mm, 10, 20, 1))  # overlap_mm wide, 1 mm high
    assert bool(pairs(BASE, beside)) == stacked


def test_pieces_on_two_sides_are_never_stacked():
    assert pairs(BASE, box_piece("top", GLITTER, Box(10, 10, 5, 5), side="front")) == ()


def test_a_piece_in_the_hole_of_another_is_not_stacked_though_their_boxes_overlap():
    assert stacked_pairs(crew_vest_job()) == ()


def test_a_job_of_no_piece_has_no_stack():
    assert pairs() == ()


def test_a_material_without_a_carrier_has_none():
    assert carrier_of(box_piece("patch", TWILL, Box(0, 0, 10, 10)), TWILL) is None


def test_a_carrier_stands_out_by_its_margin_all_round():
    carrier = carrier_of(BASE, FOAM)
    assert carrier is not None
    assert carrier.bounds == pytest.approx((-6, -6, 56, 56))
    rounded = 50 * 50 + 4 * 50 * 6 + math.pi * 6**2  # four corners make one disc
    assert carrier.area == pytest.approx(rounded, abs=0.5)


def test_a_carrier_closes_a_narrow_hole():
    ring = Polygon(ring_of(Box(0, 0, 50, 50)), holes=(ring_of(Box(20, 20, 10, 10)),))
    carrier = carrier_of(Piece("ring", "ring", "back", FOAM.key, Outline((ring,))), FOAM)
    assert carrier is not None
    assert from_shapely(carrier).polygons[0].holes == ()
