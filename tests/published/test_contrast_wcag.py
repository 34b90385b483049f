"""Contrast against published values.

Formula: W3C, WCAG 2.2, definitions of "relative luminance" and "contrast ratio". Grey and pure-colour pairs:
values widely tabled for that formula (#767676 is the lightest grey to pass 4.5 on white). Mixed pairs and the
single luminance: examples in the documentation of the npm package contrast-ratio-checker.
"""

import pytest

from floorapp.palette import PAIRS, Carries, colour
from tests.contrast import contrast, luminance


@pytest.mark.parametrize(
    ("foreground", "background", "ratio"),
    [
        ("#000000", "#FFFFFF", 21.0),
        ("#767676", "#FFFFFF", 4.5422),
        ("#777777", "#FFFFFF", 4.4781),
        ("#0000FF", "#FFFFFF", 8.5925),
        ("#FF0000", "#FFFFFF", 3.9985),
        ("#E5E5E5", "#AABB00", 1.69809),
        ("#FF8100", "#64003A", 5.23537),
    ],
)
def test_contrast_is_what_is_published(foreground: str, background: str, ratio: float) -> None:
    # The values are printed to four or five figures.
    assert contrast(colour(foreground), colour(background)) == pytest.approx(ratio, rel=2e-5)


def test_luminance_is_what_is_published() -> None:
    assert luminance(colour("#FF8100")) == pytest.approx(0.369605, rel=2e-6)


@pytest.mark.parametrize("pair", PAIRS, ids=lambda pair: pair.where)
def test_every_pair_of_the_palette_has_the_contrast_that_its_use_asks_for(pair) -> None:
    assert contrast(pair.foreground, pair.background) >= pair.carries.value


def test_the_limits_are_those_of_wcag() -> None:
    # WCAG 2.2: 1.4.6 enhanced 7:1, 1.4.3 minimum 4.5:1, 1.4.11 non-text 3:1.
    assert [use.value for use in Carries] == [7.0, 4.5, 3.0]
