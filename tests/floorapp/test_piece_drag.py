"""How far a finger takes a piece, and when it only taps it."""

from floorapp.widgets.piece_drag import PieceDrag
from models.geometry import Box
from tests.sample_jobs import FOAM, box_piece

ANCHOR = box_piece("anchor", FOAM, Box(100, 300, 120, 120))
AT_REST = PieceDrag(ANCHOR, start_px=(200.0, 300.0), at_px=(200.0, 300.0), px_per_mm=0.8, slack_px=12.0)


def test_a_finger_that_stays_within_the_slack_taps() -> None:
    assert not AT_REST.to((208.0, 308.0)).is_begun


def test_a_finger_that_leaves_the_slack_drags_also_when_it_comes_back() -> None:
    assert AT_REST.to((213.0, 300.0)).is_begun
    assert AT_REST.to((213.0, 300.0)).to((201.0, 300.0)).is_begun


def test_the_shift_is_in_whole_mm_of_the_garment_to_the_right_and_down() -> None:
    """80.4 px at 0.8 px a mm are 100.5 mm, and pixels count upwards."""
    assert AT_REST.to((280.5, 310.0)).shift_mm == (101, -12)
    assert AT_REST.to((120.0, 290.0)).shift_mm == (-100, 12)
