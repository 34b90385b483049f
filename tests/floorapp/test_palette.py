"""Every tone is told by a colour that stands out, and by a sign."""

import pytest

from floorapp.palette import PAIRS, PAPER, TONES, Carries, colour, darker
from floorapp.views import Tone
from floorapp.widgets.shapes import PEEL_SIGNS, TONE_SIGNS, SignName, shape_of
from models.job.job import Peel

TEXT_PAIRS = {(pair.foreground, pair.background) for pair in PAIRS if pair.carries is not Carries.SIGN}


@pytest.mark.parametrize("tone", Tone)
def test_the_text_on_every_block_is_a_pair_that_is_checked(tone: Tone) -> None:
    assert (TONES[tone].on_block, TONES[tone].block) in TEXT_PAIRS


@pytest.mark.parametrize("tone", Tone)
def test_the_line_of_every_tone_can_be_read_as_text_on_paper(tone: Tone) -> None:
    assert (TONES[tone].line, PAPER) in {(pair.foreground, pair.background) for pair in PAIRS}


def test_no_two_tones_share_a_sign() -> None:
    assert len(set(TONE_SIGNS.values())) == len(Tone)


def test_hot_warm_and_cold_have_signs_of_their_own() -> None:
    assert len({PEEL_SIGNS[how] for how in Peel}) == len(Peel)
    filled = {how: sum(len(area) for area in shape_of(PEEL_SIGNS[how]).fills) for how in Peel}
    assert filled[Peel.HOT] > 0
    assert filled[Peel.WARM] > 0
    assert filled[Peel.COLD] == 0


@pytest.mark.parametrize("name", [name for name in SignName if name])
def test_every_sign_lies_in_its_square(name: SignName) -> None:
    shape = shape_of(name)
    points = [point for path in (*shape.lines, *shape.loops, *shape.fills) for point in path]
    assert points
    assert all(0 <= x <= 1 and 0 <= y <= 1 for x, y in points)


def test_a_colour_code_is_read_channel_by_channel() -> None:
    assert colour("#FF8000") == (1.0, 128 / 255, 0.0, 1.0)


def test_a_colour_under_a_finger_is_darker_and_as_solid() -> None:
    assert darker((1.0, 0.5, 0.0, 1.0)) == (0.82, 0.41, 0.0, 1.0)
