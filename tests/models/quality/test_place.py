"""Where a piece lies: over a seam, beside it, or on plain cloth."""

import pytest

from models.geometry import Box
from models.job.job import Side, Zone, ZoneKind
from models.quality.place import gap_mm, place_of
from tests.sample_jobs import TWILL, box_piece, job_of

YOKE = Zone(ZoneKind.RAISED, Box(0, 120, 560, 12), "yoke seam")
ZIP = Zone(ZoneKind.KEEP_OUT, Box(270, 0, 20, 700), "zip")


def place_on(box: Box, *zones: Zone) -> str:
    piece = box_piece("patch", TWILL, box)
    job = job_of([piece], [TWILL], sides=(Side("back", 560, 700, zones),))
    return place_of(job, piece)


def test_a_piece_that_crosses_the_seam_lies_over_it():
    assert place_on(Box(100, 110, 50, 50), YOKE) == "back, over the yoke seam"


def test_a_piece_that_ends_at_the_seam_lies_beside_it():
    assert place_on(Box(100, 132, 50, 50), YOKE) == "back, beside the yoke seam"


def test_fifteen_millimetres_from_the_seam_is_still_beside_it():
    assert place_on(Box(100, 147, 50, 50), YOKE) == "back, beside the yoke seam"


def test_farther_than_that_is_plain_cloth():
    assert place_on(Box(100, 147.1, 50, 50), YOKE) == "back, plain cloth"


def test_a_zip_is_no_seam():
    assert place_on(Box(240, 300, 29, 50), ZIP) == "back, plain cloth"


def test_a_side_without_zones_is_plain_cloth():
    assert place_on(Box(100, 100, 50, 50)) == "back, plain cloth"


def test_a_seam_under_the_piece_counts_before_one_that_only_touches_it():
    pocket = Zone(ZoneKind.RAISED, Box(150, 140, 100, 10), "pocket")
    assert place_on(Box(100, 125, 50, 50), pocket, YOKE) == "back, over the yoke seam"


def test_of_two_seams_the_nearer_one_is_named():
    pocket = Zone(ZoneKind.RAISED, Box(0, 200, 560, 10), "pocket")
    assert place_on(Box(100, 142, 50, 55), YOKE, pocket) == "back, beside the pocket"


def test_a_zone_without_a_label_is_called_what_it_is():
    assert place_on(Box(100, 110, 50, 50), Zone(ZoneKind.RAISED, Box(0, 120, 560, 12), "")) == (
        "back, over the raised zone"
    )


@pytest.mark.parametrize(
    ("other", "gap"),
    [(Box(5, 5, 2, 2), 0), (Box(10, 0, 5, 5), 0), (Box(13, 14, 5, 5), 5), (Box(0, -8, 5, 5), 3)],
)
def test_the_gap_between_boxes_is_the_straight_line(other, gap):
    assert gap_mm(Box(0, 0, 10, 10), other) == gap
    assert gap_mm(other, Box(0, 0, 10, 10)) == gap
